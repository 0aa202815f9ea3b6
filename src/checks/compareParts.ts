import type { SkidDocument } from '../document/types.ts'
import { idWords } from '../findings/rules.ts'
import { partName } from '../skid/partName.ts'
import { type Change, differenceOf } from './change.ts'
import { compareFields } from './compareFields.ts'
import {
  benderFigures,
  type Figure,
  figure,
  fittingFigures,
  modelFigures,
  settingFigures,
  solidFigures,
  supportFigures,
  word,
} from './partFigures.ts'
import { unwordedChanges, type WordedFields } from './unwordedChanges.ts'

export type PartKind = 'fitting' | 'solid' | 'model' | 'support' | 'bender' | 'viewpoint' | 'acceptance'

/** A part that is not what it was, and in what. */
export interface ChangedPart {
  readonly id: string
  readonly name: string
  readonly changes: readonly Change[]
}
/** What became of one kind of parts. Parts are the same part when their ids are. */
export interface PartChanges {
  readonly kind: PartKind
  readonly added: readonly { readonly id: string; readonly name: string }[]
  readonly removed: readonly { readonly id: string; readonly name: string }[]
  readonly changed: readonly ChangedPart[]
}
export interface PartsComparison {
  /** Kinds in which anything is different. */
  readonly parts: readonly PartChanges[]
  /** Of the document itself: its name, the clearances it asks for, its maximum span between supports. */
  readonly settings: readonly Change[]
}

/** Fields of parts that are worded otherwise than by their values. */
const WORDED: WordedFields = [
  [/^(housing|arm|benchTop|benchEdge)\b/, /^solids$/],
  [/^tubeOutFirst$/, /^after each bend$/],
  [/^tooling\..*\.clrMeasured$/, /: CLR measured$/],
  [/^springback\..*range/, /: (from|to)$/],
  [/^hash$/, /^content of the file$/],
  [/^parts\b/, /^part /],
  [/^fitting$/, /^body of$/],
  [/^run$/, /^run$/],
  [/^catalogueId$/, /^port$/],
]

/** Figures nearer than this are the same; mm or degrees. */
const SAME = 1e-6

/** What a later version does to everything that is no run. */
export function compareParts(before: SkidDocument, after: SkidDocument): PartsComparison {
  const fittingName = (document: SkidDocument, id: string | null) =>
    id === null ? 'none' : (document.fittings.find(f => f.id === id)?.name ?? id)
  const tag = (document: SkidDocument, id: string) => document.runs.find(r => r.id === id)?.tag ?? id
  const parts = [
    kindOf('fitting', before.fittings, after.fittings, f => f.name, fittingFigures),
    kindOf(
      'solid',
      before.solids,
      after.solids,
      s => s.name,
      (s, d) => [...solidFigures(s), word('belongs to', fittingName(d, s.fitting))],
    ),
    kindOf(
      'model',
      before.models,
      after.models,
      m => m.name,
      (m, d) => [...modelFigures(m), word('belongs to', fittingName(d, m.fitting))],
    ),
    kindOf(
      'support',
      before.supports,
      after.supports,
      s => s.name,
      (s, d) => [...supportFigures(s), word('run', tag(d, s.run))],
    ),
    kindOf('bender', before.benders, after.benders, b => b.name, benderFigures),
    kindOf(
      'viewpoint',
      before.viewpoints,
      after.viewpoints,
      v => v.name,
      v => [word('note', v.note)],
    ),
    kindOf(
      'acceptance',
      named(before),
      named(after),
      a => findingName(a.finding, id => nameOfEither(after, before, id)),
      a => [
        word('category', a.category),
        word('reason', a.reason),
        word('by', a.by),
        word('on', a.on),
        figure('accepted value', a.measured, ''),
        figure('limit', a.limit, ''),
      ],
    ),
  ]
  return {
    parts: parts.filter(p => p.added.length + p.removed.length + p.changed.length > 0),
    settings: settingChanges(before, after),
  }

  function kindOf<T extends { readonly id: string }>(
    kind: PartKind,
    old: readonly T[],
    now: readonly T[],
    name: (part: T) => string,
    figures: (part: T, document: SkidDocument) => readonly Figure[],
  ): PartChanges {
    const was = new Map(old.map(p => [p.id, p]))
    const is = new Set(now.map(p => p.id))
    const said = (p: T) => ({ id: p.id, name: name(p) })
    return {
      kind,
      added: now.filter(p => !was.has(p.id)).map(said),
      removed: old.filter(p => !is.has(p.id)).map(said),
      changed: now.flatMap((p): ChangedPart[] => {
        const earlier = was.get(p.id)
        if (!earlier || earlier === p) return []
        const worded = differences(figures(earlier, before), figures(p, after))
        const changes = [...worded, ...unwordedChanges(earlier, p, worded, WORDED)]
        return changes.length > 0 ? [{ ...said(p), changes }] : []
      }),
    }
  }
}

/** Of the document itself, and the order of what it lists. */
function settingChanges(before: SkidDocument, after: SkidDocument): Change[] {
  const worded = differences(settingFigures(before), settingFigures(after))
  const own = (document: SkidDocument) =>
    Object.fromEntries(Object.entries(document).filter(([name]) => !isList(document, name)))
  const orders = Object.keys(before).flatMap((name): Change[] => {
    if (!isList(before, name) || !isList(after, name)) return []
    const order = compareFields(bareList(before, name), bareList(after, name))
    return order
      .filter(({ path }) => path.length === 1 && path[0] === 'order')
      .map(o => ({ what: `order of ${name}`, before: String(o.before), after: String(o.after), unit: '' }))
  })
  return [...worded, ...unwordedChanges(own(before), own(after), worded, []), ...orders]
}

const isList = (document: SkidDocument, name: string) => Array.isArray(document[name as keyof SkidDocument])

/** Nothing but how the entries of a list are called. */
const bareList = (document: SkidDocument, name: string): { readonly id: string }[] =>
  (document[name as keyof SkidDocument] as readonly { id?: string; finding?: string }[]).map(entry => ({
    id: entry.id ?? entry.finding ?? '',
  }))

/** Figures by name: one that only one version has is null in the other. */
function differences(before: readonly Figure[], after: readonly Figure[]): Change[] {
  const was = new Map(before.map(f => [f.what, f]))
  const is = new Map(after.map(f => [f.what, f]))
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((what): Change[] => {
    const [a, b] = [was.get(what)?.value ?? null, is.get(what)?.value ?? null]
    const change: Change = { what, before: a, after: b, unit: (is.get(what) ?? was.get(what)!).unit }
    const by = differenceOf(change)
    return a === b || (by !== null && Math.abs(by) <= SAME) ? [] : [change]
  })
}

/** What a finding is about, from its id: rule, then the run and, after it, its other party. */
function findingName(finding: string, name: (id: string) => string): string {
  const [rule = '', run, ...other] = finding.split(':')
  const parties = [run, other.join(':')].filter(id => id !== undefined && id !== '').map(id => name(id!))
  return `${idWords(rule)}: ${parties.join(' and ')}`
}

/** As a part is called in the later version, else in the earlier one. */
function nameOfEither(after: SkidDocument, before: SkidDocument, id: string): string {
  const now = partName(after, id)
  return now === id ? partName(before, id) : now
}

/** Decisions by what they are about; a second one about the same finding is another part. */
function named({ acceptances }: SkidDocument) {
  const count = new Map<string, number>()
  return acceptances.map(a => {
    const earlier = count.get(a.finding) ?? 0
    count.set(a.finding, earlier + 1)
    return { ...a, id: earlier === 0 ? a.finding : `${a.finding} ${earlier + 1}` }
  })
}
