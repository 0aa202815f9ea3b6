import { runChecks } from '../../../checks/runChecks.ts'
import { movePoint } from '../../../document/edits.ts'
import { endPoint } from '../../../document/lookUp.ts'
import type { Sentence } from '../../../document/sentence.ts'
import type { Run, SkidDocument } from '../../../document/types.ts'
import type { Finding } from '../../../findings/finding.ts'
import { addScaled, type Vec3 } from '../../../geometry/vec3.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import type { SolvedRoute } from '../../../solve/types.ts'

/** Neighbouring route points that move together: 0 is end A. */
export interface Group {
  readonly first: number
  readonly last: number
}

/** Every group of neighbouring points that holds point `from` at its near end and may move: a port stays. */
export function groupsFrom(run: Run, from: number, towards: 'A' | 'B'): Group[] {
  const end = run.vertices.length + 1
  const groups: Group[] = []
  if (towards === 'B')
    for (let last = from; last <= (run.endB.kind === 'free' ? end : end - 1); last++)
      groups.push({ first: from, last })
  else
    for (let first = from; first >= (run.endA.kind === 'free' ? 0 : 1); first--)
      groups.push({ first, last: from })
  return groups
}

/** The document with a group of the run's points moved by `by` · `direction`. */
export function shiftGroup(
  document: SkidDocument,
  run: Run,
  group: Group,
  direction: Vec3,
  by: number,
): SkidDocument {
  const end = run.vertices.length + 1
  let next = document
  for (let k = group.first; k <= group.last; k++) {
    const id = k === 0 ? 'A' : k === end ? 'B' : run.vertices[k - 1]!.id
    const at =
      k === 0
        ? endPoint(document, run.endA)
        : k === end
          ? endPoint(document, run.endB)
          : run.vertices[k - 1]!.at
    if (at) next = movePoint(next, run.id, id, addScaled(at, direction, by))
  }
  return next
}

export interface Tried {
  readonly document: SkidDocument
  /** Small is good: how much the bends change, then how many points move. */
  readonly cost: number
  /** What it would break: what new errors and warnings say; empty when it mends without harm. */
  readonly breaks: readonly Sentence[]
}

/** What a changed document does to one run: is the finding gone, and what is new? Null when it does not mend it. */
export function judge(
  before: SkidDocument,
  after: SkidDocument,
  finding: Finding,
  moved: number,
): Tried | null {
  const runId = finding.where.run
  const found = (document: SkidDocument) => {
    const run = document.runs.find(r => r.id === runId)
    if (!run) return null
    const solved = solveRun(document, run)
    return { route: solved.route, findings: runChecks({ ...document, runs: [run] }, [solved]).findings }
  }
  const was = found(before)
  const is = found(after)
  if (!was || !is || is.findings.some(f => f.id === finding.id && f.severity === finding.severity))
    return null
  const known = new Set(was.findings.map(f => `${f.severity} ${f.id}`))
  const breaks = is.findings
    .filter(f => (f.severity === 'error' || f.severity === 'warning') && !known.has(`${f.severity} ${f.id}`))
    .map(f => f.sentence)
  return { document: after, cost: bendChange(was.route, is.route) + 0.001 * moved, breaks }
}

/** Sum of the changes of all angles and turns, degrees. */
function bendChange(a: SolvedRoute | null, b: SolvedRoute | null): number {
  if (!a || !b || a.bends.length !== b.bends.length) return 0
  return a.bends.reduce((sum, bend, k) => {
    const other = b.bends[k]!
    const turn = Math.abs((bend.rotation ?? 0) - (other.rotation ?? 0)) % 360
    return sum + Math.abs(bend.angle - other.angle) + Math.min(turn, 360 - turn)
  }, 0)
}

/** The harmless try with the least cost; else the least harmful one, to say what it would break; null when none. */
export function best(tries: readonly (Tried | null)[]): Tried | null {
  const done = tries.filter(t => t !== null)
  return done.sort((a, b) => a.breaks.length - b.breaks.length || a.cost - b.cost)[0] ?? null
}
