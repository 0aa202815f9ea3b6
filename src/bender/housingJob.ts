import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { solveRun } from '../solve/solveRun.ts'
import { housingNotChecked } from './benchFindings.ts'
import { housingCheck } from './housingCheck.ts'

export interface HousingRequest {
  /** With the run, its fittings and its bender; anything else in it is not looked at. */
  readonly document: SkidDocument
  readonly runId: string
}

/** The housing check of one run; a fault in it is a finding that says "not checked". Never throws. */
export function answerHousing({ document, runId }: HousingRequest): readonly Finding[] {
  const run = document.runs.find(r => r.id === runId)
  if (!run) return []
  const solved = solveRun(document, run)
  try {
    return housingCheck(document, solved)
  } catch (error) {
    return [housingNotChecked(solved, error instanceof Error ? error.message : String(error))]
  }
}
