import { askAboutSpringback } from '../../bender/askAboutSpringback.ts'
import { type DialReading, goOnTo, type SpringbackFit, springbackRecord } from '../../bender/springback.ts'
import { dialAtBench, fitAtBench } from '../../bender/trialsAtBench.ts'
import { springbackOf } from '../../document/lookUp.ts'
import { benchAngle } from './figures.ts'
import type { Programme } from './programme.ts'
import { fitKey, type Progress, trialsOf } from './progress.ts'

/** How far the dial is from the tube, in words. */
export const dialAhead = (ahead: number): string =>
  `the dial reads ${benchAngle(ahead)}° ${ahead >= 0 ? 'more' : 'less'} than the tube`

/** The line or offset through the trials made here that are not left out, or why there is none. */
export function fitOf(progress: Progress): SpringbackFit | string {
  try {
    return fitAtBench(trialsOf(progress))
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}

/**
 * The dial reading that the trials made here give for an angle; null when they make no line, or one that no tube
 * follows and that nobody has agreed to.
 */
export function byTrials(
  { run, tooling }: Pick<Programme, 'run' | 'tooling'>,
  progress: Progress,
  angle: number,
): DialReading | null {
  const fit = fitOf(progress)
  if (typeof fit === 'string') return null
  const record = springbackRecord(run.tube.material, fit)
  const doubt = askAboutSpringback(record, [angle], tooling.maxAngle)
  return doubt === null || progress.agreedFit === fitKey(progress) ? dialAtBench(fit, angle) : null
}

/**
 * Where the dial has to stand for a step: going on from a short stop; by the trials made here where they are chosen
 * or all there is; else by the bender's record. Null when nothing is known.
 */
export function dialOf(programme: Programme, progress: Progress, i: number): number | null {
  const { bender, run, layout } = programme
  const step = layout.steps[i]!
  const short = progress.short[i] ?? null
  if (short) return goOnTo(step.angle, short)
  const ask = progress.dialFrom === 'trials' || springbackOf(bender, run) === null
  return (ask ? byTrials(programme, progress, step.angle)?.dial : null) ?? step.dial
}
