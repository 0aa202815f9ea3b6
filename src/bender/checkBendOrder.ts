import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'
import { equipmentFor } from './benchCommand.ts'
import { orderFindings } from './benchFindings.ts'
import { benchSetup } from './housing.ts'
import { judgeLead, searchOrder } from './orderSearch.ts'

/** An order of a run's bends with what the bender's check says of that very order. */
export interface CheckedBendOrder {
  readonly order: readonly OrderedBend[]
  readonly findings: readonly Finding[]
}

/**
 * The run made with one end leading, or in the best order, and what it hits, or why it cannot be held, then.
 *
 * @throws BenchError when the run has no route, or no bender or tooling that fits.
 */
export function checkBendOrder(
  document: SkidDocument,
  solved: SolvedRun,
  lead: Lead | 'best',
): CheckedBendOrder {
  const { bender, tooling, springback } = equipmentFor(document, solved, {})
  const setup = benchSetup(solved, bender, tooling, springback, { trimAt: 'B' })
  const judged = lead === 'best' ? searchOrder(setup, { clearest: false }).best : judgeLead(setup, lead)
  return { order: judged.order, findings: orderFindings(solved, judged.steps) }
}
