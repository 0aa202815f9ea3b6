import { type Decisions, decide } from '../checks/decisions.ts'
import type { Finding } from '../checks/finding.ts'
import { runChecks, worstFirst } from '../checks/runChecks.ts'
import type { SkidDocument } from '../document/types.ts'
import { type ClearanceState, clearanceOf } from './clearance.ts'
import { solvedRuns } from './derived.ts'

export interface Findings {
  /** Of all checks, worst first. */
  readonly findings: readonly Finding[]
  readonly decisions: Decisions
  /** False while clearance of what is shown is still being checked, or could not be. */
  readonly complete: boolean
}

let last: { document: SkidDocument; clearance: ClearanceState; answer: Findings } | null = null

/** Findings of what is shown with what was decided about each; the same object for the same document and answer. */
export function findingsOf(document: SkidDocument, clearance: ClearanceState): Findings {
  if (last?.document === document && last.clearance === clearance) return last.answer
  const gaps = clearanceOf(document, clearance)
  const failed: Finding[] =
    clearance.failure && clearance.answered === document ? [notRun(clearance.failure)] : []
  const findings = worstFirst([
    ...runChecks(document, solvedRuns(document)).findings,
    ...gaps.findings,
    ...failed,
  ])
  const answer = { findings, decisions: decide(findings, document.acceptances), complete: gaps.complete }
  last = { document, clearance, answer }
  return answer
}

const notRun = (reason: string): Finding => ({
  id: 'clearance:notChecked',
  rule: 'clearanceNotChecked',
  severity: 'notChecked',
  where: { run: null, kind: 'run', index: null },
  measured: null,
  limit: null,
  unit: '',
  message: `Clearance of the whole skid is not checked: ${reason}.`,
})
