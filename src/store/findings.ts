import { type Decisions, decide } from '../checks/decisions.ts'
import type { Finding } from '../checks/finding.ts'
import { runChecks } from '../checks/runChecks.ts'
import type { SkidDocument } from '../document/types.ts'
import { solvedRuns } from './derived.ts'

let lastDocument: SkidDocument | null = null
let lastFindings: readonly Finding[] = []

/** Findings of the checks that are done at once, worst first; the same array for the same document. */
export function findingsOf(document: SkidDocument): readonly Finding[] {
  if (document !== lastDocument) {
    lastFindings = runChecks(document, solvedRuns(document)).findings
    lastDocument = document
  }
  return lastFindings
}

let lastDecided: { findings: readonly Finding[]; document: SkidDocument; decisions: Decisions } | null = null

/** The same findings with what was decided about each; the same object for the same document. */
export function decisionsOf(document: SkidDocument): Decisions {
  const findings = findingsOf(document)
  if (lastDecided?.document !== document || lastDecided.findings !== findings)
    lastDecided = { findings, document, decisions: decide(findings, document.acceptances) }
  return lastDecided.decisions
}
