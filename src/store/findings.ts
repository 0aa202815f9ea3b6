import { type Decisions, decide } from '../checks/decisions.ts'
import type { Finding } from '../checks/finding.ts'
import { runChecks, worstFirst } from '../checks/runChecks.ts'
import type { SkidDocument } from '../document/types.ts'
import { type ClearanceState, clearanceOf } from './clearance.ts'
import { solvedRuns } from './derived.ts'
import { housingOf, housingStore } from './housing.ts'

export interface Findings {
  /** Of all checks, worst first. */
  readonly findings: readonly Finding[]
  readonly decisions: Decisions
  /** False while clearance on the skid or from the bender is still being checked, or could not be. */
  readonly complete: boolean
}

interface Entry {
  readonly document: SkidDocument
  readonly clearance: ClearanceState
  readonly housed: number
  readonly answer: Findings
}
/** Two, for the picture may be a frame ahead of the lists while a point is dragged. */
let recent: readonly Entry[] = []

/** Findings of what is shown with what was decided about each; the same object for the same document and answer. */
export function findingsOf(document: SkidDocument, clearance: ClearanceState): Findings {
  const housed = housingStore.getState().answers
  const known = recent.find(e => e.document === document && e.clearance === clearance && e.housed === housed)
  if (known) return known.answer
  const gaps = clearanceOf(document, clearance)
  const housing = housingOf(document)
  const failed: Finding[] =
    clearance.failure && clearance.answered === document ? [notRun(clearance.failure)] : []
  const findings = worstFirst([
    ...runChecks(document, solvedRuns(document)).findings,
    ...gaps.findings,
    ...housing.findings,
    ...failed,
  ])
  const answer = {
    findings,
    decisions: decide(findings, document.acceptances),
    complete: gaps.complete && housing.complete,
  }
  recent = [{ document, clearance, housed, answer }, ...recent.slice(0, 1)]
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
