import type { SkidDocument } from '../document/types.ts'
import { keptSolver } from '../solve/keptSolver.ts'
import type { SolvedRun } from '../solve/types.ts'

let lastDocument: SkidDocument | null = null
let lastSolved: readonly SolvedRun[] = []
let lastById: ReadonlyMap<string, SolvedRun> | null = null

/** The document's runs, solved; the same array for the same document, the same entry for an untouched run. */
export function solvedRuns(document: SkidDocument): readonly SolvedRun[] {
  if (document === lastDocument) return lastSolved
  lastSolved = document.runs.map(keptSolver(document))
  lastDocument = document
  lastById = null
  return lastSolved
}

/** The document's runs, solved, by run id. */
export function solvedById(document: SkidDocument): ReadonlyMap<string, SolvedRun> {
  const solved = solvedRuns(document)
  lastById ??= new Map(solved.map(s => [s.runId, s]))
  return lastById
}

export const solvedRunOf = (document: SkidDocument, runId: string | null): SolvedRun | null =>
  runId === null ? null : (solvedById(document).get(runId) ?? null)
