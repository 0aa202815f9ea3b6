import type { Bender, Fitting, Model, SkidDocument, Solid, Support } from '../document/types.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import type { Change } from './compareDocuments.ts'

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
  /** Of the document itself: its name, the clearances it asks for, its support span. */
  readonly settings: readonly Change[]
}

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
      (s, d) => [...solidFigures(s), word('body of', fittingName(d, s.fitting))],
    ),
    kindOf(
      'model',
      before.models,
      after.models,
      m => m.name,
      (m, d) => [...modelFigures(m), word('body of', fittingName(d, m.fitting))],
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
      a => a.finding,
      a => [
        word('category', a.category),
        word('reason', a.reason),
        word('by', a.by),
        figure('approved value', a.measured, ''),
      ],
    ),
  ]
  return {
    parts: parts.filter(p => p.added.length + p.removed.length + p.changed.length > 0),
    settings: differences(settingFigures(before), settingFigures(after)),
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
        const changes = differences(figures(earlier, before), figures(p, after))
        return changes.length > 0 ? [{ ...said(p), changes }] : []
      }),
    }
  }
}

interface Figure {
  readonly what: string
  readonly value: number | string | null
  readonly unit: Change['unit']
}
const figure = (what: string, value: number | null, unit: Change['unit'] = 'mm'): Figure => ({
  what,
  value,
  unit,
})
const word = (what: string, value: string): Figure => ({ what, value, unit: '' })
const along = (what: string, v: Vec3, unit: Change['unit'] = 'mm'): Figure[] =>
  (['x', 'y', 'z'] as const).map((axis, k) => figure(`${what} ${axis}`.trim(), v[k]!, unit))

/** Figures by name: one that only one version has is null in the other. */
function differences(before: readonly Figure[], after: readonly Figure[]): Change[] {
  const was = new Map(before.map(f => [f.what, f]))
  const is = new Map(after.map(f => [f.what, f]))
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((what): Change[] => {
    const [a, b] = [was.get(what)?.value ?? null, is.get(what)?.value ?? null]
    const same = a === b || (typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) <= SAME)
    return same ? [] : [{ what, before: a, after: b, unit: (is.get(what) ?? was.get(what)!).unit }]
  })
}

const fittingFigures = (f: Fitting): Figure[] => [
  word('name', f.name),
  word('port', f.catalogueId ?? 'none'),
  ...along('', f.position),
  ...along('axis', f.axis, ''),
  figure('insertion', f.insertionDepth),
  figure('straight wanted', f.straightNeeded),
  figure('tube OD', f.tubeOd),
]

function solidFigures(s: Solid): Figure[] {
  const common = [word('name', s.name), word('kind', s.kind), word('shape', s.shape), ...along('', s.at)]
  switch (s.shape) {
    case 'box':
      return [...common, ...along('size', s.size), ...along('turn', s.turn, 'deg')]
    case 'cylinder':
      return [...common, ...along('axis', s.axis, ''), figure('length', s.length), figure('radius', s.radius)]
    case 'sphere':
      return [...common, figure('radius', s.radius)]
    case 'plane':
      return [...common, ...along('normal', s.normal, '')]
  }
}

const modelFigures = (m: Model): Figure[] => [
  word('name', m.name),
  word('file', m.fileName),
  // The first digits tell versions of a file apart; all 64 would fill the line.
  word('content of the file', m.hash.slice(0, 12)),
  figure('mm in one unit', m.unitMm, ''),
  word('up', m.up),
  word('kind', m.kind),
  ...along('', m.at),
  ...along('turn', m.turn, 'deg'),
  ...m.parts.map(p => word(`part ${p.key}`, p.fitting === null ? p.kind : `${p.kind} of ${p.fitting}`)),
]

const supportFigures = (s: Support): Figure[] => [
  word('name', s.name),
  word('type', s.type),
  ...along('', s.at),
]

/** A bender's many figures are one word each group: what is in them is the bending view's to show. */
const benderFigures = (b: Bender): Figure[] => [
  word('name', b.name),
  word('hand', b.hand),
  word('kind', b.kind),
  word('tooling', brief(b.tooling)),
  word('springback', brief(b.springback)),
  word('shape', brief([b.housing, b.arm, b.benchTop, b.benchEdge])),
]

/** A short mark that differs when the content does (FNV-1a, 32 bits, from memory). */
function brief(content: unknown): string {
  let h = 0x811c9dc5
  for (const c of JSON.stringify(content)) h = Math.imul(h ^ c.charCodeAt(0), 0x01000193)
  return `set ${(h >>> 0).toString(16).padStart(8, '0')}`
}

const settingFigures = (d: SkidDocument): Figure[] => [
  word('name', d.name),
  figure('clearance to tubes', d.clearances.tube),
  figure('clearance to equipment', d.clearances.equipment),
  figure('clearance to structure', d.clearances.structure),
  figure('clearance to fittings', d.clearances.fitting),
  figure('clearance to the floor', d.clearances.floor),
  figure('clearance to keep-out', d.clearances.keepOut),
  figure('support span', d.supportSpan),
]

const named = ({ acceptances }: SkidDocument) => acceptances.map(a => ({ ...a, id: a.finding }))
