import { formatLength, type LengthUnit } from '../../document/quantity.ts'

export interface Tick {
  /** mm from the ruler's zero. */
  readonly at: number
  /** Null on the small ticks. */
  readonly label: string | null
}

/** Least room between two labels, px. */
const LABEL_PX = 52
/** Least room between two ticks, px. */
const TICK_PX = 5
/** More ticks than any window has room for; a ruler that is drawn far past the window's edge has wider ones. */
const MOST_TICKS = 4000

/** Labelled steps, and into how many parts each may be cut, finest first. mm, or inches. */
const MM_STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000]
const INCH_STEPS = [1 / 8, 1 / 4, 1 / 2, 1, 2, 3, 6, 12, 24, 36, 60, 120, 240, 480]

/**
 * Ticks of a ruler from 0 to `length` mm drawn at `pxPerMm`: labels where there is room, small ticks between them
 * on figures a person would read off a tape.
 */
export function rulerTicks(length: number, pxPerMm: number, unit: LengthUnit): Tick[] {
  if (!(length > 0 && pxPerMm > 0)) return []
  const worth = unit === 'mm' ? 1 : 25.4
  const steps = unit === 'mm' ? MM_STEPS : INCH_STEPS
  const least = Math.max(LABEL_PX / pxPerMm, length / MOST_TICKS) / worth
  if (!Number.isFinite(least)) return []
  let step = steps.find(s => s >= least - 1e-12) ?? steps.at(-1)!
  while (step < least) step *= 10
  const parts =
    [10, 8, 6, 5, 4, 2].find(
      p => whole(step / p, unit) && (step / p) * worth >= Math.max(TICK_PX / pxPerMm, length / MOST_TICKS),
    ) ?? 1
  const small = step / parts
  const ticks: Tick[] = []
  for (let i = 0; i * small * worth <= length + 1e-9; i++) {
    const at = i * small * worth
    ticks.push({ at, label: i % parts === 0 ? formatLength(at, unit) : null })
  }
  return ticks
}

/** A part that a tape has a line for: whole mm or halves; inches in binary parts. */
const whole = (part: number, unit: LengthUnit): boolean =>
  unit === 'mm' ? Number.isInteger(part * 2) : Number.isInteger(part * 32)
