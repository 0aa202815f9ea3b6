import type { Finding } from '../checks/finding.ts'
import type { SkidDocument } from '../document/types.ts'
import { solveRun } from '../solve/solveRun.ts'
import { housingNotChecked } from './benchFindings.ts'
import { housingCheck } from './housingCheck.ts'

export interface HousingRequest {
  readonly serial: number
  /** With the run, its fittings and its bender; anything else in it is not looked at. */
  readonly document: SkidDocument
  readonly runId: string
}
export interface HousingAnswer {
  readonly serial: number
  readonly findings: readonly Finding[]
}

/** The housing check of one run; a fault in it is a finding that says "not checked". Never throws. */
export function answerHousing({ serial, document, runId }: HousingRequest): HousingAnswer {
  const run = document.runs.find(r => r.id === runId)
  if (!run) return { serial, findings: [] }
  const solved = solveRun(document, run)
  try {
    return { serial, findings: housingCheck(document, solved) }
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error)
    return { serial, findings: [housingNotChecked(solved, why)] }
  }
}
