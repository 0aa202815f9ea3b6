import type { Finding } from '../checks/finding.ts'
import { say, told } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { equipmentFor } from './benchCommand.ts'
import { BenchError } from './benchError.ts'
import { atBench, benchFindings, housingNotChecked } from './benchFindings.ts'
import { benchSetup } from './housing.ts'
import { type OrderedBend, orderFrom, sameOrder } from './layOut.ts'
import { type JudgedOrder, judgeOrder, searchOrder } from './orderSearch.ts'

/** With more bends than this a check does not search every order by itself: that is for the bench, where it can be stopped. */
export const SEARCHED_BENDS = 6

/**
 * Can the run be made on its bender without hitting it? Nothing when it clears with end A leading; a note when only
 * another order clears, with that order; findings with motion, place, solid and depth when none does. A run without
 * bender, tooling or route gives nothing here: other checks say so.
 */
export function housingCheck(document: SkidDocument, solved: SolvedRun): Finding[] {
  if (!solved.route || solved.route.bends.length === 0) return []
  // What cannot exist cannot be swung either.
  if (solved.route.straights.some(s => s < 0))
    return [housingNotChecked(solved, 'a leg is overrun by its bends')]
  let aFirst: JudgedOrder
  try {
    const { bender, tooling, springback } = equipmentFor(document, solved, {})
    const count = solved.route.bends.length
    const setup = benchSetup(solved, bender, tooling, springback, { trimAt: 'B' })
    aFirst = judgeOrder(setup, orderFrom('A', count))
    if (aFirst.atLeast === null) return benchFindings(solved, aFirst.steps)
    if (aFirst.clears) return []
    const bFirst = judgeOrder(setup, orderFrom('B', count))
    if (bFirst.clears) return [otherOrder(solved, aFirst, bFirst)]
    if (count > SEARCHED_BENDS)
      return [
        ...benchFindings(solved, (isHeld(aFirst) || !isHeld(bFirst) ? aFirst : bFirst).steps),
        housingNotChecked(
          solved,
          `neither end leading clears the bender; ${count} bends have too many other orders to try unasked: search them at the bench`,
        ),
      ]
    const { best } = searchOrder(setup)
    if (best.clears) return [otherOrder(solved, aFirst, best)]
    return benchFindings(solved, (isHeld(best) ? best : aFirst).steps)
  } catch (error) {
    if (error instanceof BenchError) return []
    throw error
  }
}

/** Where it cannot be held in any order the straights are too short for clamp or follower: other checks say by how much. */
const isHeld = ({ steps }: JudgedOrder) => steps.every(s => s.hold === null)

function otherOrder(solved: SolvedRun, aFirst: JudgedOrder, clear: JudgedOrder): Finding {
  const first = aFirst.steps.find(s => s.worst?.depth != null)
  const hits = aFirst.steps.flatMap(s => s.motions.filter(m => m.depth !== null))
  const when = hits.every(m => m.motion === 'armBack') ? ', though only while the arm swings back,' : ''
  const why = first ? `hits the ${first.worst?.solid ?? 'housing'} of its bender${when}` : 'cannot be held'
  return {
    id: `housingOrder:${solved.runId}`,
    rule: 'housingOrder',
    severity: 'note',
    where: { run: solved.runId, kind: 'run', index: null },
    measured: null,
    limit: null,
    unit: '',
    order: clear.order,
    ...told(
      say`${why} when end A leads; ${orderInWords(clear.order)} it clears by ${atBench(clear.atLeast ?? 0)}`,
    ),
  }
}

/** "with end B leading", or "in the order 2 (end A leading), 1, 3 (end B leading)". */
function orderInWords(order: readonly OrderedBend[]): string {
  const lead = order[0]?.lead ?? 'A'
  if (sameOrder(order, orderFrom(lead, order.length))) return `with end ${lead} leading`
  const steps = order.map(
    (o, i) => `${o.bend + 1}${o.lead === order[i - 1]?.lead ? '' : ` (end ${o.lead} leading)`}`,
  )
  return `in the order ${steps.join(', ')}`
}

/** The housing check of every run. */
export const housingFindings = (document: SkidDocument, solvedRuns: readonly SolvedRun[]): Finding[] =>
  solvedRuns.flatMap(solved => housingCheck(document, solved))
