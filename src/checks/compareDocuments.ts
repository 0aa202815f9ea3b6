import { endPoint, fittingOf } from '../document/lookUp.ts'
import { say, told } from '../document/sentence.ts'
import type { Run, RunEnd, SkidDocument } from '../document/types.ts'
import { solveRun } from '../solve/solveRun.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type Change, differenceOf } from './change.ts'
import { unwordedChanges, type WordedFields } from './unwordedChanges.ts'

export interface ChangedRun {
  readonly runId: string
  readonly tag: string
  readonly changes: readonly Change[]
}
export interface Comparison {
  readonly added: readonly Run[]
  readonly removed: readonly Run[]
  readonly changed: readonly ChangedRun[]
  readonly same: number
}

/** Figures nearer than this are the same: rounding of the same route solved again; mm or degrees. */
const SAME = 1e-6

/** A moved point is worded by the straights, bends and lengths that it makes others. */
const WORDED: WordedFields = [
  [/^vertices\b/, /^(straight|bend) \d|^(bends|cut length|route)$/],
  [/^bender$/, /^bender$/],
  [/^endA\b/, /^end A/],
  [/^endB\b/, /^end B/],
]

/** What a later version of a document does to its runs. Runs are the same run when their ids are. */
export function compareDocuments(before: SkidDocument, after: SkidDocument): Comparison {
  const old = new Map(before.runs.map(r => [r.id, r]))
  const now = new Set(after.runs.map(r => r.id))
  const changed: ChangedRun[] = []
  let same = 0
  for (const run of after.runs) {
    const was = old.get(run.id)
    if (!was) continue
    const worded = changesOf(before, was, after, run)
    const changes = [...worded, ...unwordedChanges(was, run, worded, WORDED)]
    if (changes.length > 0) changed.push({ runId: run.id, tag: run.tag, changes })
    else same++
  }
  return {
    added: after.runs.filter(r => !old.has(r.id)),
    removed: before.runs.filter(r => !now.has(r.id)),
    changed,
    same,
  }
}

function changesOf(before: SkidDocument, was: Run, after: SkidDocument, run: Run): Change[] {
  const changes: Change[] = []
  const figure = (what: string, a: number | null, b: number | null, unit: Change['unit']) => {
    const change: Change = { what, before: a, after: b, unit }
    const by = differenceOf(change)
    if (a !== b && (by === null || Math.abs(by) > SAME)) changes.push(change)
  }
  const word = (what: string, a: string, b: string) => {
    if (a !== b) changes.push({ what, before: a, after: b, unit: '' })
  }
  word('tag', was.tag, run.tag)
  word('service', was.service, run.service)
  word('material', was.tube.material, run.tube.material)
  word('bender', benderName(before, was), benderName(after, run))
  figure('OD', was.tube.od, run.tube.od, 'mm')
  figure('wall', was.tube.wall, run.tube.wall, 'mm')
  figure('CLR', was.clr, run.clr, 'mm')
  figure('trim allowance', was.trimAllowance, run.trimAllowance, 'mm')
  figure('insulation', was.insulation, run.insulation, 'mm')
  figure('insulation cut back', was.insulationCutBack ?? null, run.insulationCutBack ?? null, 'mm')
  figure('quantity', was.quantity, run.quantity, '')
  for (const [name, a, b] of [
    ['end A', was.endA, run.endA],
    ['end B', was.endB, run.endB],
  ] as const) {
    word(name, endName(before, a), endName(after, b))
    const p = endPoint(before, a)
    const q = endPoint(after, b)
    if (p && q)
      (['x', 'y', 'z'] as const).forEach((axis, i) => {
        figure(`${name} ${axis}`, p[i]!, q[i]!, 'mm')
      })
  }
  const a = solveRun(before, was)
  const b = solveRun(after, run)
  const said = ({ problem }: SolvedRun) => problem ?? told(say`can be solved`)
  const [then, now] = [said(a), said(b)]
  if (then.message !== now.message)
    changes.push({
      ...{ what: 'route', before: then.message, after: now.message, unit: '' },
      sentences: { before: then.sentence, after: now.sentence },
    })
  figure('cut length', a.cutLength, b.cutLength, 'mm')
  figure('bends', a.route?.bends.length ?? null, b.route?.bends.length ?? null, '')
  const straights = Math.max(a.route?.straights.length ?? 0, b.route?.straights.length ?? 0)
  for (let k = 0; k < straights; k++) {
    figure(`straight ${k + 1}`, a.route?.straights[k] ?? null, b.route?.straights[k] ?? null, 'mm')
    const p = a.route?.bends[k]
    const q = b.route?.bends[k]
    figure(`bend ${k + 1} angle`, p?.angle ?? null, q?.angle ?? null, 'deg')
    figure(`bend ${k + 1} rotation`, p?.rotation ?? null, q?.rotation ?? null, 'deg')
  }
  return changes
}

const benderName = (document: SkidDocument, run: Run) =>
  document.benders.find(b => b.id === run.bender)?.name ?? 'none'

const endName = (document: SkidDocument, end: RunEnd) =>
  end.kind === 'free' ? 'free' : (fittingOf(document, end)?.name ?? `missing fitting ${end.fitting}`)
