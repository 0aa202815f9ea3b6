import { benderOf } from '../document/lookUp.ts'
import type { Bender, Fitting, Run, RunEnd, SkidDocument } from '../document/types.ts'
import { solveRun } from '../solve/solveRun.ts'
import type { SolvedRun } from '../solve/types.ts'

interface Kept {
  readonly fittings: readonly Fitting[]
  readonly ends: readonly [Fitting | null, Fitting | null]
  readonly benders: readonly Bender[]
  readonly bender: Bender | null
  readonly solved: SolvedRun
}
/** Solved runs are kept as long as the run, the two fittings that it ends in and its bender are the same objects. */
const kept = new WeakMap<Run, Kept>()
let lastDocument: SkidDocument | null = null
let lastSolved: readonly SolvedRun[] = []
let lastById: ReadonlyMap<string, SolvedRun> | null = null

/** The document's runs, solved; the same array for the same document, the same entry for an untouched run. */
export function solvedRuns(document: SkidDocument): readonly SolvedRun[] {
  if (document === lastDocument) return lastSolved
  lastSolved = document.runs.map(solverAhead(document))
  lastDocument = document
  lastById = null
  return lastSolved
}

/** Solves runs of a document one by one, perhaps before it is shown; what is solved once is kept. */
export function solverAhead(document: SkidDocument): (run: Run) => SolvedRun {
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

/** The document's runs, solved, by run id. */
export function solvedById(document: SkidDocument): ReadonlyMap<string, SolvedRun> {
  const solved = solvedRuns(document)
  lastById ??= new Map(solved.map(s => [s.runId, s]))
  return lastById
}

export const solvedRunOf = (document: SkidDocument, runId: string | null): SolvedRun | null =>
  runId === null ? null : (solvedById(document).get(runId) ?? null)
