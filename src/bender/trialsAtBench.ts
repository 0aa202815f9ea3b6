import { isOutside } from '../document/angleRange.ts'
import { type DialReading, dialFor, fitTrials, type SpringbackFit, type Trial } from './springback.ts'

/**
 * Trials spread over less than this (degrees of dial) give no slope worth having: an error of 0.3° in reading a hand
 * dial over 8° of spread is 1.7° at 45° from there. No source; the arithmetic of the line.
 */
export const LEAST_SPREAD_DEG = 15

/**
 * Fits trials as they come in at the bench: the line of {@link fitTrials} when they are spread out, else the mean
 * offset, with the range they cover and a residual (measured less fitted, degrees) for each.
 * @throws BenchError as fitTrials does: no trials, a figure that is no angle, a falling line.
 */
export function fitAtBench(trials: readonly Trial[]): SpringbackFit {
  const dials = trials.map(t => t.dial)
  if (trials.length < 2 || Math.max(...dials) - Math.min(...dials) >= LEAST_SPREAD_DEG)
    return fitTrials(trials)
  return meanOffset(trials)
}

/**
 * The mean offset of trials, whatever their spread: the dial is ahead by a fixed amount.
 * @throws BenchError as fitTrials does.
 */
export function meanOffset(trials: readonly Trial[]): SpringbackFit {
  if (trials.length < 2) return fitTrials(trials)
  for (const t of trials) fitTrials([t])
  const measured = trials.map(t => t.measured)
  const a = trials.reduce((sum, t) => sum + t.measured - t.dial, 0) / trials.length
  return {
    kind: 'offset',
    a,
    b: 1,
    residuals: trials.map(t => t.measured - a - t.dial),
    range: [Math.min(...measured), Math.max(...measured)],
  }
}

/** Springbacks of trials may differ by this before they contradict each other, degrees: two readings' worth, no source. */
const AT_ODDS_DEG = 2
/** And by so much for each degree of dial between them: springback grows with the angle. No source. */
const AT_ODDS_SHARE = 0.03

/**
 * How far each trial lies from what the others say, measured less expected, degrees; null for one that agrees with
 * them. The one that contradicts the others most is taken out first, until the rest agree. Two alone cannot say which of
 * them is wrong: then both have it.
 */
export function outliersOf(trials: readonly Trial[]): (number | null)[] {
  const back = (i: number) => trials[i]!.dial - trials[i]!.measured
  const odds = (i: number, j: number) => {
    const apart = Math.abs(trials[i]!.dial - trials[j]!.dial)
    return Math.max(0, Math.abs(back(i) - back(j)) - AT_ODDS_DEG - AT_ODDS_SHARE * apart)
  }
  const off = trials.map((): number | null => null)
  let left = trials.map((_, i) => i)
  while (left.length > 1) {
    const sums = left.map(i => left.reduce((sum, j) => sum + odds(i, j), 0))
    const most = Math.max(...sums)
    if (most === 0) break
    const out = left.length === 2 ? left : [left[sums.indexOf(most)]!]
    for (const i of out) off[i] = middle(left.filter(j => j !== i).map(back)) - back(i)
    left = left.filter(i => !out.includes(i))
  }
  return off
}

function middle(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const at = (sorted.length - 1) / 2
  return (sorted[Math.floor(at)]! + sorted[Math.ceil(at)]!) / 2
}

/** Dial reading for a wanted angle by such a fit, degrees; far from the trials it still answers and says so. */
export function dialAtBench(fit: SpringbackFit, wanted: number): DialReading {
  if (fit.kind === 'line') return dialFor(fit, wanted)
  const [low, high] = fit.range
  const far = isOutside(wanted, [low - LEAST_SPREAD_DEG, high + LEAST_SPREAD_DEG])
  const place = high - low < 0.05 ? `at ${low.toFixed(1)}°` : `at ${low.toFixed(1)}°–${high.toFixed(1)}°`
  return {
    dial: wanted - fit.a,
    warning: far ? `trials only ${place}: make one nearer to ${wanted.toFixed(1)}°` : null,
  }
}
