import { type Layout, layOut, orderFrom } from '../bender/layOut.ts'
import { benderOf, dieOf, runOf, springbackOf, toolingOf } from '../document/lookUp.ts'
import type { Bender, Run, SkidDocument, Springback, Tooling } from '../document/types.ts'
import { notMeasured } from '../document/unmeasured.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'
import { OutputError } from './outputError.ts'

/** A run as it goes to the bench: what is known of the machine, and the layout when it can be made. */
export interface BenchRun {
  readonly run: Run
  readonly bender: Bender | null
  readonly tooling: Tooling | null
  readonly springback: Springback | null
  /** Null without a bender, or without tooling for this OD and CLR: then there are no marks to print. */
  readonly layout: Layout | null
  /** Stock to cut, mm: the layout's, or the solver's when there is no layout. */
  readonly cutLength: number
}

/**
 * @param order the end that leads through all bends, or the bends in the order of an order search.
 * @throws OutputError when the run is not of the document or its route could not be solved.
 */
export function benchRun(
  document: SkidDocument,
  solved: SolvedRun,
  order: Lead | readonly OrderedBend[] = 'A',
): BenchRun {
  const run = runOf(document, solved.runId)
  if (run === null) throw new OutputError(`run ${solved.tag}`, 'no such run', 'a run of the document')
  if (solved.route === null || solved.cutLength === null)
    throw new OutputError(
      `run ${solved.tag}`,
      solved.problem?.message ?? 'no route',
      'a route that can be solved',
    )
  const bender = benderOf(document, run)
  const tooling = bender && toolingOf(bender, run)
  const springback = bender && springbackOf(bender, run)
  const layout =
    bender && tooling
      ? layOut(solved, tooling, springback, {
          hand: bender.hand,
          kind: bender.kind,
          tubeOutFirst: bender.tubeOutFirst ?? false,
          order: typeof order === 'string' ? orderFrom(order, solved.route.bends.length) : order,
        })
      : null
  return {
    run,
    bender,
    tooling,
    springback,
    layout,
    cutLength: layout?.cutLength ?? solved.cutLength,
  }
}

/** The end that leads at the first step; 'A' when there is no step. */
export const firstLead = (layout: Pick<Layout, 'steps'> | null): Lead => layout?.steps[0]?.lead ?? 'A'

/** The end that the trim comes off after the last bend: the one that trails at the first step. Marks from there include it. */
export const trimEnd = (layout: Pick<Layout, 'steps'> | null): Lead => (firstLead(layout) === 'A' ? 'B' : 'A')

/** Why there are no marks and dial readings, as a clause; null when there are. */
export function noMarksBecause({ run, bender, tooling }: BenchRun): string | null {
  if (!bender) return 'no bender is chosen'
  if (tooling) return null
  const die = dieOf(bender, run)
  return die ? notMeasured(bender, die) : `${bender.name} has no tooling for this OD and CLR`
}

/** True when the tube is turned end for end on the way. */
export const leadsMixed = (layout: Layout | null): boolean =>
  layout?.steps.some(s => s.lead !== firstLead(layout)) ?? false
