import { BenchError } from '../bench/benchError.ts'
import { type JudgedRun, judgeRun } from '../bench/judgeRun.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Lead } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'

/** The order of bends as led. A run that cannot be laid out is printed without marks, and says why itself. */
export function judgedAsLed(
  document: SkidDocument,
  solved: SolvedRun,
  lead: Lead | 'best',
): JudgedRun | undefined {
  try {
    return judgeRun(document, solved, lead)
  } catch (error) {
    if (error instanceof BenchError) return undefined
    throw error
  }
}
