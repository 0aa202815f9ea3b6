import { angleText, isAbove, isOutside, rangeText } from '../document/angleRange.ts'
import type { Springback } from '../document/types.ts'
import { BenchError } from './benchError.ts'

/** One trial bend: what the dial stood at under load and what angle stayed, degrees. */
export interface Trial {
  readonly dial: number
  readonly measured: number
}

export interface SpringbackFit {
  /** 'offset': the dial is simply ahead by a fixed amount; 'line': least squares through all trials. */
  readonly kind: 'offset' | 'line'
  /** measured = a + b·dial, degrees. */
  readonly a: number
  readonly b: number
  /** Measured less fitted, degrees, one per trial. */
  readonly residuals: readonly number[]
  /** Smallest and largest measured angle of the trials, degrees. */
  readonly range: readonly [number, number]
}

export interface DialReading {
  readonly dial: number
  /** Why this reading is a guess, or null when the trials cover it. */
  readonly warning: string | null
}

/** Below this spread of dial readings (degrees) a slope would be noise: two readings of a hand dial differ by as much. */
const SAME_ANGLE_DEG = 1

/**
 * Fits trial bends: one gives the dial's offset (dial − measured), two or more the least squares line
 * measured = a + b·dial.
 * @throws BenchError without trials, on a figure that is no angle, when all trials are at one angle, or when b ≤ 0.
 */
export function fitTrials(trials: readonly Trial[]): SpringbackFit {
  trials.forEach((t, i) => {
    for (const [what, v] of Object.entries(t))
      if (!(Number.isFinite(v) && v > 0 && v < 360))
        throw new BenchError(`trial ${i + 1}: ${what}`, `${v}`, 'an angle between 0° and 360°')
  })
  const [first] = trials
  if (first === undefined) throw new BenchError('trial bends', 'none', 'at least one')
  const measured = trials.map(t => t.measured)
  const range = [Math.min(...measured), Math.max(...measured)] as const
  if (trials.length === 1)
    return { kind: 'offset', a: first.measured - first.dial, b: 1, residuals: [0], range }

  const dials = trials.map(t => t.dial)
  if (Math.max(...dials) - Math.min(...dials) < SAME_ANGLE_DEG)
    throw new BenchError('trial bends', `all at ${first.dial}°`, 'at least two different angles for a line')
  const n = trials.length
  const meanDial = dials.reduce((s, v) => s + v, 0) / n
  const meanMeasured = measured.reduce((s, v) => s + v, 0) / n
  let sxx = 0
  let sxy = 0
  for (const t of trials) {
    sxx += (t.dial - meanDial) ** 2
    sxy += (t.dial - meanDial) * (t.measured - meanMeasured)
  }
  const b = sxy / sxx
  if (!(b > 0))
    throw new BenchError(
      'trial bends',
      `measured angle falls as the dial rises (slope ${b.toFixed(3)})`,
      'a rising line: check the pairs',
    )
  const a = meanMeasured - b * meanDial
  return { kind: 'line', a, b, residuals: trials.map(t => t.measured - a - b * t.dial), range }
}

/** Dial reading for a wanted angle, degrees; outside the trials it still answers and says so. */
export function dialFor(fit: SpringbackFit, wanted: number): DialReading {
  const dial = (wanted - fit.a) / fit.b
  const [low] = fit.range
  if (fit.kind === 'offset') {
    const far = isAbove(Math.abs(wanted - low), 15)
    return {
      dial,
      warning: far ? `only one trial, at ${low}°: make one nearer to ${wanted.toFixed(1)}°` : null,
    }
  }
  return {
    dial,
    warning: isOutside(wanted, fit.range)
      ? `${angleText(wanted, fit.range, { digits: 1 })} is outside the ${rangeText(fit.range, wanted)} that the trials cover`
      : null,
  }
}

/** The record that the document keeps: commanded less settled = offset + perDegree · wanted. */
export function springbackRecord(material: string, fit: SpringbackFit): Springback {
  return { material, offset: (0 - fit.a) / fit.b, perDegree: 1 / fit.b - 1, range: fit.range }
}

/** How far short of the wanted angle the first trial stops, degrees. Common practice, no source. */
export const STOP_SHORT_DEG = 5

/** Dial reading at which a first trial stops so that the piece is not scrap, degrees. */
export const firstStop = (wanted: number): number => Math.max(wanted - STOP_SHORT_DEG, wanted / 2)

/**
 * Where to take the dial next on the same piece after stopping at `trial`, degrees: the gap that is left is
 * added to the reading, since the springback of the last few degrees is nearly the same.
 */
export const goOnTo = (wanted: number, trial: Trial): number => wanted + (trial.dial - trial.measured)
