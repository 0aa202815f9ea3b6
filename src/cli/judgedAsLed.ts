import { BenchError } from '../bender/benchError.ts'
import { type CheckedBendOrder, checkBendOrder } from '../bender/checkBendOrder.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Lead } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'

/** The order of bends as led. A run that cannot be laid out is printed without marks, and says why itself. */
export function judgedAsLed(
  document: SkidDocument,
  solved: SolvedRun,
  lead: Lead | 'best',
): CheckedBendOrder | undefined {
  try {
    return checkBendOrder(document, solved, lead)
  } catch (error) {
    if (error instanceof BenchError) return undefined
    throw error
  }
}
