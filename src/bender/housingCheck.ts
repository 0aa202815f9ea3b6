import { type Sentence, say, told } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { OrderedBend } from '../solve/bendOrder.ts'
import { overruns } from '../solve/overruns.ts'
import type { SolvedRun } from '../solve/types.ts'
import { equipmentFor } from './benchCommand.ts'
import { BenchError } from './benchError.ts'
import { atBench, benchFindings, holdFindings, housingNotChecked, markFindings } from './benchFindings.ts'
import type { StepClearance } from './clearStep.ts'
import { endsHeld, isLong, isNeverHeld } from './endsHeld.ts'
import { type BenchSetup, benchSetup, TurnTooFar } from './housing.ts'
import { orderFrom, sameSequence } from './layOut.ts'
import { orderMark } from './orderMark.ts'
import {
  EXACT_BENDS,
  type JudgedOrder,
  judgeLead,
  judgeOrder,
  ofTwo,
  reaches,
  searchOrder,
} from './orderSearch.ts'
import { orderClause } from './orderText.ts'

/**
 * Can the run be made on its bender without hitting it? Nothing when the order proposed is all bends from end A with
 * every half turn clockwise; a note with the order and what speaks against that one when it is another; findings with
 * motion, place, solid and depth when no order clears. A run without bender, tooling or route gives nothing here: other
 * checks say so.
 */
export function housingCheck(document: SkidDocument, solved: SolvedRun): Finding[] {
  if (!solved.route || solved.route.bends.length === 0) return []
  // What cannot exist cannot be swung either.
  if (overruns(solved.route).length > 0)
    return [housingNotChecked(solved, 'a leg is too short for its bends')]
  try {
    const { bender, tooling, springback } = equipmentFor(document, solved, {})
    const count = solved.route.bends.length
    const setup = benchSetup(solved, bender, tooling, springback, { trimAt: 'B' })
    const { best, searched } = proposedOrder(setup)
    const another =
      best.clears && orderMark(best.order) !== ''
        ? [otherOrder(solved, judgeOrder(setup, orderFrom('A', count)), best)]
        : []
    if (best.atLeast === null)
      return [...another, ...unheldFindings(setup, solved, best.steps), ...benchFindings(solved, best.steps)]
    if (best.clears) return another
    const shown = isHeld(best) ? best : judgeLead(setup, 'A')
    const hits = [...unheldFindings(setup, solved, shown.steps), ...benchFindings(solved, shown.steps)]
    return searched
      ? hits
      : [
          ...hits,
          housingNotChecked(
            solved,
            `neither end leading clears the bender; ${count} bends have too many other orders to try them all here: search for an order under Bend`,
          ),
        ]
  } catch (error) {
    if (error instanceof TurnTooFar) return [housingNotChecked(solved, error.message)]
    if (error instanceof BenchError) return []
    throw error
  }
}

/** The order that is proposed, as {@link searchOrder} finds it; with many bends only one end leading is tried. */
function proposedOrder(setup: BenchSetup): { readonly best: JudgedOrder; readonly searched: boolean } {
  const aFirst = judgeLead(setup, 'A')
  if (reaches(aFirst, setup.margin) || aFirst.steps.some(isNotKnown)) return { best: aFirst, searched: true }
  if (setup.wanted.length <= EXACT_BENDS)
    return { best: searchOrder(setup, { clearest: false, aFirst }).best, searched: true }
  const bFirst = judgeLead(setup, 'B')
  return { best: ofTwo(aFirst, bFirst, setup.margin), searched: false }
}

/**
 * What of an order that cannot be held no check of its straights says: marks off the stock, and, where every straight
 * could be held in some order, the bends that no one order holds.
 */
function unheldFindings(setup: BenchSetup, solved: SolvedRun, steps: readonly StepClearance[]): Finding[] {
  const { clampGrip, followerLength } = setup.tooling
  const isSaid =
    setup.wanted.length === 1 ||
    endsHeld(setup).some(isNeverHeld) ||
    setup.stock.straights.slice(1, -1).some(is => !isLong(is, Math.min(clampGrip, followerLength)))
  return isSaid ? markFindings(solved, steps) : holdFindings(solved, steps)
}

const isNotKnown = ({ motions }: StepClearance) => motions.some(m => m.unknown !== null)

const isHeld = ({ steps }: JudgedOrder) => steps.every(s => s.hold === null)

/** Why it is not all bends from end A, every half turn clockwise, and by how much the order proposed clears. */
function otherOrder(solved: SolvedRun, aFirst: JudgedOrder, best: JudgedOrder): Finding {
  return {
    id: `housingOrder:${solved.runId}:${orderMark(best.order)}`,
    rule: 'housingOrder',
    severity: 'note',
    where: { run: solved.runId, kind: 'run', index: null },
    measured: null,
    limit: null,
    unit: '',
    order: best.order,
    ...told(
      best.atLeast === null
        ? say`${whyNot(aFirst, waysOnly(best.order))}; ${orderClause(best.order)} it can be`
        : say`${whyNot(aFirst, waysOnly(best.order))}; ${orderClause(best.order)} it clears by ${atBench(best.atLeast)}`,
    ),
  }
}

const waysOnly = (order: readonly OrderedBend[]) => sameSequence(order, orderFrom('A', order.length))

function whyNot(aFirst: JudgedOrder, ways: boolean): Sentence {
  const when = ways ? 'when end A leads and every half turn goes clockwise' : 'when end A leads'
  const hits = aFirst.steps.flatMap(s => s.motions.filter(m => m.depth !== null))
  const held = aFirst.steps.find(s => s.hold !== null)?.hold
  if (held) return say`cannot be ${held.need === 'mark' ? 'marked' : 'held'} ${when}`
  if (aFirst.clears) return say`clears its bender by only ${atBench(aFirst.atLeast ?? 0)} ${when}`
  if (hits.length === 0) return say`is not known to clear its bender ${when}`
  const worst = hits.reduce((a, b) => ((b.atLeast ?? 0) < (a.atLeast ?? 0) ? b : a))
  const only = hits.every(m => m.motion === 'armBack') ? ', though only while the arm returns,' : ''
  return say`hits the ${worst.solid ?? 'housing'} of its bender${only} ${when}`
}

/** The housing check of every run. */
export const housingFindings = (document: SkidDocument, solvedRuns: readonly SolvedRun[]): Finding[] =>
  solvedRuns.flatMap(solved => housingCheck(document, solved))
