import type { Fitting, Run, SkidDocument } from '../document/types.ts'
import { solveRun } from '../solve/solveRun.ts'
import type { SolvedRun } from '../solve/types.ts'

/** Solved runs are kept as long as the run and the fittings they came from are the same objects. */
const kept = new WeakMap<Run, { fittings: readonly Fitting[]; solved: SolvedRun }>()
let lastDocument: SkidDocument | null = null
let lastSolved: readonly SolvedRun[] = []
let lastById: ReadonlyMap<string, SolvedRun> | null = null

/** The document's runs, solved; the same array for the same document, the same entry for an untouched run. */
export function solvedRuns(document: SkidDocument): readonly SolvedRun[] {
  if (document === lastDocument) return lastSolved
  lastSolved = document.runs.map(run => {
    const known = kept.get(run)
    if (known && known.fittings === document.fittings) return known.solved
    const solved = solveRun(document, run)
    kept.set(run, { fittings: document.fittings, solved })
    return solved
  })
  lastDocument = document
  lastById = null
  return lastSolved
}

/** The same by run id. */
export function solvedById(document: SkidDocument): ReadonlyMap<string, SolvedRun> {
  const solved = solvedRuns(document)
  lastById ??= new Map(solved.map(s => [s.runId, s]))
  return lastById
}

export const solvedRunOf = (document: SkidDocument, runId: string | null): SolvedRun | null =>
  runId === null ? null : (solvedById(document).get(runId) ?? null)
