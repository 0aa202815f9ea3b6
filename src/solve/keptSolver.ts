import { benderOf } from '../document/lookUp.ts'
import type { Bender, Fitting, Run, RunEnd, SkidDocument } from '../document/types.ts'
import { solveRun } from './solveRun.ts'
import type { SolvedRun } from './types.ts'

interface Kept {
  readonly fittings: readonly Fitting[]
  readonly ends: readonly [Fitting | null, Fitting | null]
  readonly benders: readonly Bender[]
  readonly bender: Bender | null
  readonly solved: SolvedRun
}
/** Solved runs are kept as long as the run, the two fittings that it ends in and its bender are the same objects. */
const kept = new WeakMap<Run, Kept>()
/** Solves runs of a document one by one, perhaps before it is shown; what is solved once is kept. */
export function keptSolver(document: SkidDocument): (run: Run) => SolvedRun {
  const { fittings, benders } = document
  let byId: ReadonlyMap<string, Fitting> | null = null
  const fittingAt = (end: RunEnd): Fitting | null => {
    byId ??= new Map(fittings.map(f => [f.id, f]))
    return end.kind === 'port' ? (byId.get(end.fitting) ?? null) : null
  }
  return run => {
    const known = kept.get(run)
    if (known?.fittings === fittings && known.benders === benders) return known.solved
    const ends = [fittingAt(run.endA), fittingAt(run.endB)] as const
    const bender = benderOf(document, run)
    const same = known && known.ends[0] === ends[0] && known.ends[1] === ends[1] && known.bender === bender
    const solved = same ? known.solved : solveRun(document, run)
    kept.set(run, { fittings, ends, benders, bender, solved })
    return solved
  }
}
