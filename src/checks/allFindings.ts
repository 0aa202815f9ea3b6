import type { SkidDocument } from '../document/types.ts'
import { clearanceFindings } from '../skid/clearanceFindings.ts'
import type { SolvedRun } from '../solve/types.ts'
import type { Finding } from './finding.ts'
import { runChecks, worstFirst } from './runChecks.ts'

/** Everything that is checked about a document without a bench sequence: runs by themselves, then their clearances. */
export function allFindings(document: SkidDocument, solvedRuns: readonly SolvedRun[]): Finding[] {
  return worstFirst([...runChecks(document, solvedRuns).findings, ...clearanceFindings(document, solvedRuns)])
}
