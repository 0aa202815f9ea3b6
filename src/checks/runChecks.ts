import type { SkidDocument } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { angleBeyondStop } from './angleBeyondStop.ts'
import { benderChosen } from './benderChosen.ts'
import { catalogueChanged } from './catalogueChanged.ts'
import type { Finding, Severity } from './finding.ts'
import { heldEnds } from './heldEnds.ts'
import { legOverrun } from './legOverrun.ts'
import { noBend } from './noBend.ts'
import { portAxis } from './portAxis.ts'
import { routeSolves } from './routeSolves.ts'
import { type RouteCheck, type RunCheck, runContext } from './runContext.ts'
import { straightAtFitting } from './straightAtFitting.ts'
import { straightBetweenBends } from './straightBetweenBends.ts'
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
  noBend,
]

/** Every fast check of every run, worst first. What could not be checked is a finding too, never left out. */
export function runChecks(document: SkidDocument, solvedRuns: readonly SolvedRun[]): { findings: Finding[] } {
  const findings = solvedRuns.flatMap(solved => {
    const context = runContext(document, solved)
    const { route } = solved
    return [
      ...RUN_CHECKS.flatMap(check => check(context)),
      ...(route ? ROUTE_CHECKS.flatMap(check => check({ ...context, route })) : []),
    ]
  })
  return { findings: worstFirst([...findings, ...catalogueChanged(document)]) }
}

const RANK: Record<Severity, number> = { error: 0, warning: 1, notChecked: 2, note: 3 }

/**
 * By severity; then what has no solution, what cannot exist (overrun legs), lengths, angles; then by how far the figure
 * misses its limit; then by identity: a steady order.
 */
export function worstFirst(findings: readonly Finding[]): Finding[] {
  const kind = (f: Finding) => (f.rule === 'legOverrun' ? 1 : f.unit === 'mm' ? 2 : f.unit === 'deg' ? 3 : 0)
  return [...findings].sort(
    (a, b) =>
      RANK[a.severity] - RANK[b.severity] ||
      kind(a) - kind(b) ||
      missBy(b) - missBy(a) ||
      (a.id < b.id ? -1 : a.id > b.id ? 1 : 0),
  )
}

/** How far a finding's figure is from its limit, in its unit, ≥ 0; 0 when it has no figures. */
export const missBy = (f: { readonly measured: number | null; readonly limit: number | null }): number =>
  f.measured === null || f.limit === null ? 0 : Math.abs(f.limit - f.measured)
