import type { Run, SkidDocument } from '../document/types.ts'
import type { Finding, Severity } from '../findings/finding.ts'
import type { SolvedRun } from '../solve/types.ts'
import { angleBeyondStop } from './angleBeyondStop.ts'
import { benderChosen } from './benderChosen.ts'
import { partsChanged, tubeChanged } from './catalogueChanged.ts'
import { heldEnds } from './heldEnds.ts'
import { legOverrun } from './legOverrun.ts'
import { noBend } from './noBend.ts'
import { portAxis } from './portAxis.ts'
import { routeSolves } from './routeSolves.ts'
import { type RouteCheck, type RunCheck, runContext } from './runContext.ts'
import { springbackPlausible } from './springbackPlausible.ts'
import { springbackUnknown } from './springbackUnknown.ts'
import { stockForBends } from './stockForBends.ts'
import { straightAtFitting } from './straightAtFitting.ts'
import { straightBetweenBends } from './straightBetweenBends.ts'
import { supportSpans } from './supportSpans.ts'
import { supportsInBend } from './supportsInBend.ts'
import { supportsOnTube } from './supportsOnTube.ts'
import { toolingFits } from './toolingFits.ts'
import { tubeFits } from './tubeFits.ts'

const RUN_CHECKS: readonly RunCheck[] = [routeSolves, tubeFits, toolingFits]
const ROUTE_CHECKS: readonly RouteCheck[] = [
  benderChosen,
  legOverrun,
  straightBetweenBends,
  straightAtFitting,
  heldEnds,
  portAxis,
  angleBeyondStop,
  springbackPlausible,
  springbackUnknown,
  stockForBends,
  noBend,
  supportsOnTube,
  supportsInBend,
  supportSpans,
]

/**
 * Every fast check of one run, worst first. They look at the run and at what the document has besides runs, never at
 * another run: an edit of one run leaves the others' findings as they are, and the page keeps them.
 */
export function checksOfRun(document: SkidDocument, run: Run, solved: SolvedRun): Finding[] {
  const context = runContext(document, solved, run)
  const { route } = solved
  return worstFirst([
    ...RUN_CHECKS.flatMap(check => check(context)),
    ...(route ? ROUTE_CHECKS.flatMap(check => check({ ...context, route })) : []),
    ...tubeChanged(run),
  ])
}

/** The fast checks that are of no run, worst first. */
export const checksOfDocument = (document: SkidDocument): Finding[] => worstFirst(partsChanged(document))

/** Every fast check of every run, worst first. What could not be checked is a finding too, never left out. */
export function runChecks(document: SkidDocument, solvedRuns: readonly SolvedRun[]): { findings: Finding[] } {
  const runs = new Map(document.runs.map(run => [run.id, run]))
  const findings = solvedRuns.flatMap(solved => {
    const run = runs.get(solved.runId)
    if (!run)
      throw new RangeError(`checks: found the solved run "${solved.runId}", wanted one of the document`)
    return checksOfRun(document, run, solved)
  })
  return { findings: worstFirst([...findings, ...checksOfDocument(document)]) }
}

const RANK: Record<Severity, number> = { error: 0, warning: 1, notChecked: 2, note: 3 }

/**
 * By severity; then what has no solution, what cannot exist (overrun legs), lengths, angles; then by how far the figure
 * misses its limit; then by identity: a steady order.
 */
export const worstFirst = (findings: readonly Finding[]): Finding[] => [...findings].sort(worse)

/** Lists that are worst first each, as one that is. */
export function mergeWorstFirst(a: readonly Finding[], b: readonly Finding[]): readonly Finding[] {
  if (a.length === 0) return b
  if (b.length === 0) return a
  const merged: Finding[] = []
  let [i, j] = [0, 0]
  while (i < a.length && j < b.length) merged.push(worse(a[i]!, b[j]!) <= 0 ? a[i++]! : b[j++]!)
  while (i < a.length) merged.push(a[i++]!)
  while (j < b.length) merged.push(b[j++]!)
  return merged
}

const kind = (f: Finding) => (f.rule === 'legOverrun' ? 1 : f.unit === 'mm' ? 2 : f.unit === 'deg' ? 3 : 0)

const worse = (a: Finding, b: Finding): number =>
  RANK[a.severity] - RANK[b.severity] ||
  kind(a) - kind(b) ||
  missBy(b) - missBy(a) ||
  (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)

/** How far a finding's figure is from its limit, in its unit, ≥ 0; 0 when it has no figures. */
export const missBy = (f: { readonly measured: number | null; readonly limit: number | null }): number =>
  f.measured === null || f.limit === null ? 0 : Math.abs(f.limit - f.measured)
