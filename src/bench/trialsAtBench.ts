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

/** Dial reading for a wanted angle by such a fit, degrees; far from the trials it still answers and says so. */
export function dialAtBench(fit: SpringbackFit, wanted: number): DialReading {
  if (fit.kind === 'line') return dialFor(fit, wanted)
  const [low, high] = fit.range
  const far = wanted < low - LEAST_SPREAD_DEG || wanted > high + LEAST_SPREAD_DEG
  const place = high - low < 0.05 ? `at ${low.toFixed(1)}°` : `at ${low.toFixed(1)}°–${high.toFixed(1)}°`
  return {
    dial: wanted - fit.a,
    warning: far ? `trials only ${place}: make one nearer to ${wanted.toFixed(1)}°` : null,
  }
}
