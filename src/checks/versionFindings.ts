import type { SkidDocument } from '../document/types.ts'
import { solveDocument } from '../solve/solveRun.ts'
import { allFindings } from './allFindings.ts'
import type { Finding } from './finding.ts'

export interface VersionRequest {
  readonly serial: number
  readonly document: SkidDocument
}
export type VersionAnswer = { readonly serial: number } & (
  | { readonly ok: true; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly reason: string }
)

/**
 * Findings of all checks of another version of a document, or why there are none. Its model files are not at hand here:
 * findings say that they are not checked.
 */
export function answerVersion({ serial, document }: VersionRequest): VersionAnswer {
  try {
    return { serial, ok: true, findings: allFindings(document, solveDocument(document)) }
  } catch (error) {
    return { serial, ok: false, reason: error instanceof Error ? error.message : String(error) }
  }
}
