import type { Finding } from '../checks/finding.ts'
import type { SkidDocument } from '../document/types.ts'
import { solveDocument } from '../solve/solveRun.ts'
import { type ClearancePair, clearancePairs } from './clearance.ts'
import { findingsOfIndex, reachOfFindings } from './clearanceFindings.ts'
import { type ClearanceIndex, createClearanceIndex } from './clearanceIndex.ts'

export interface ClearanceRequest {
  /** Answers carry it back: one to an older document is never taken for the newest. */
  readonly serial: number
  readonly document: SkidDocument
}
export type ClearanceAnswer = { readonly serial: number } & (
  | { readonly ok: true; readonly findings: readonly Finding[]; readonly pairs: readonly ClearancePair[] }
  | { readonly ok: false; readonly reason: string }
)

/** Kept between requests: an edit measures only the pairs that it touches. */
let index: ClearanceIndex | null = null

/** Clearance findings and pairs of a document, or why they could not be worked out. Never throws. */
export function answerClearance({ serial, document }: ClearanceRequest): ClearanceAnswer {
  try {
    const reach = reachOfFindings(document)
    if (!index || index.within < reach) index = createClearanceIndex(reach)
    index.update(document, solveDocument(document))
    return {
      serial,
      ok: true,
      findings: findingsOfIndex(index, document),
      pairs: clearancePairs(index, document),
    }
  } catch (error) {
    // Whatever went wrong, the next document starts from a clean index.
    index = null
    return { serial, ok: false, reason: error instanceof Error ? error.message : String(error) }
  }
}
