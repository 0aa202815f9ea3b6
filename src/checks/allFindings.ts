import { housingFindings } from '../bench/housingCheck.ts'
import type { SkidDocument } from '../document/types.ts'
import { clearanceFindings } from '../skid/clearanceFindings.ts'
import type { SolvedRun } from '../solve/types.ts'
import type { Finding } from './finding.ts'
import { runChecks, worstFirst } from './runChecks.ts'

/** Everything that is checked about a document: runs by themselves, what they come near, and what they hit at the bender. */
export function allFindings(document: SkidDocument, solvedRuns: readonly SolvedRun[]): Finding[] {
  return worstFirst([
    ...runChecks(document, solvedRuns).findings,
    ...clearanceFindings(document, solvedRuns),
    ...housingFindings(document, solvedRuns),
  ])
}
