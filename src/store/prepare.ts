import type { SkidDocument } from '../document/types.ts'
import { keptSolver } from '../solve/keptSolver.ts'
import { checkAhead } from './checked.ts'

/** How long the page may be kept from what else it has to do, ms: a frame or two. */
const SLICE_MS = 30

/** Called between two slices with how many of all runs are done; false calls the rest off. */
export type GoOn = (done: number, total: number) => boolean

/**
 * Solves and checks the runs of a document that is about to be shown, a slice at a time, so that showing it only looks
 * up what is known by then.
 * @param sliceMs how long one slice may take, ms ≥ 0; one run at least is done in each.
 * @returns false when `goOn` called it off.
 */
export async function prepare(
  document: SkidDocument,
  goOn: GoOn = () => true,
  sliceMs = SLICE_MS,
): Promise<boolean> {
  const solveAhead = keptSolver(document)
  const total = document.runs.length
  // Whatever came before, such as reading the file, had a slice of its own.
  await turn()
  let until = performance.now() + sliceMs
  for (const [i, run] of document.runs.entries()) {
    checkAhead(document, run, solveAhead(run))
    if (performance.now() < until) continue
    if (!goOn(i + 1, total)) return false
    await turn()
    until = performance.now() + sliceMs
  }
  return goOn(total, total)
}

/** Done when the page has had its turn. */
const turn = () => new Promise<void>(done => setTimeout(done))
