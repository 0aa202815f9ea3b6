import { layOut, orderFrom } from '../../bender/layOut.ts'
import { benderOf, springbackOf, toolingOf } from '../../document/lookUp.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import type { SolvedRun } from '../../solve/types.ts'

/** Where the pencil marks go on the straight stock with end A leading, mm from its end at A; null without tooling. */
export function pencilMarks(document: SkidDocument, run: Run, solved: SolvedRun): number[] | null {
  const bender = benderOf(document, run)
  const tooling = bender && toolingOf(bender, run)
  if (!bender || !tooling || !solved.route) return null
  const springback = springbackOf(bender, run)
  const { steps } = layOut(solved, tooling, springback, {
    hand: bender.hand,
    kind: bender.kind,
    order: orderFrom('A', solved.route.bends.length),
  })
  return steps.map(s => s.mark)
}
