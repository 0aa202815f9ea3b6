import { markFrom, NO_MARK_ON_PART, onPartFrom } from '../../outputs/stepWords.ts'
import type { Programme } from './programme.ts'
import type { Progress } from './progress.ts'

/** A step's mark as the fabricator finds it: one figure and what it counts from, the same wherever the step is shown. */
export interface MarkNow {
  /** mm; null when nothing can be measured to it on the part. */
  readonly distance: number | null
  /** "from end A", "from the back of bend 2"; or why there is no figure. */
  readonly from: string
  /** True when it is measured on the part, false on the straight stock. */
  readonly onPart: boolean
}

/** The first mark is always made on the straight stock. */
export function markNow(programme: Programme, progress: Progress, i: number): MarkNow {
  const step = programme.atDie[i]!
  if (progress.marks === 'stock' || i === 0)
    return { distance: step.step.mark, from: markFrom(step), onPart: false }
  return step.onPart === null
    ? { distance: null, from: NO_MARK_ON_PART, onPart: true }
    : { distance: step.onPart.distance, from: onPartFrom(step.onPart), onPart: true }
}
