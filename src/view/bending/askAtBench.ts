import { askAboutAngle, askAboutBlindAngle, askAboutDial, OVERBENT_DEG } from '../../bender/askAboutAngle.ts'
import { askAboutSpringback } from '../../bender/askAboutSpringback.ts'
import { goOnTo, springbackRecord } from '../../bender/springback.ts'
import { springbackOf } from '../../document/lookUp.ts'
import { type Sentence, say } from '../../document/sentence.ts'
import type { Springback } from '../../document/types.ts'
import { dialOf, fitOf } from './dial.ts'
import { benchAngle, shownDial, shownStop } from './figures.ts'
import type { Programme } from './programme.ts'
import type { Progress } from './progress.ts'

/** What was read off dial and tube on one screen, degrees; the dial null where nobody knows it. */
export interface Reading {
  readonly dial: number | null
  readonly measured: number
}

/** The screens on which something is measured. */
export interface Measuring {
  readonly kind: 'readShort' | 'measure'
  readonly step: number
}

export interface Asked {
  /** 'overbent': how far the dial really went; 'past': a short stop that left nothing to bend; else a doubtful figure. */
  readonly kind: 'dial' | 'angle' | 'overbent' | 'past'
  readonly sentence: Sentence
}

/** The springback on record and by the trials made here, those that a tube can have. */
export function knownSpringbacks(
  { bender, run, tooling, solved }: Programme,
  progress: Progress,
): Springback[] {
  const fit = fitOf(progress)
  const trials = typeof fit === 'string' ? null : springbackRecord(run.tube.material, fit)
  const wanted = solved.route?.bends.map(b => b.angle) ?? []
  return [springbackOf(bender, run), trials].filter(
    s => s !== null && askAboutSpringback(s, wanted, tooling.maxAngle) === null,
  ) as Springback[]
}

/** Where the dial is thought to stand on a measuring screen, as shown, degrees; null where that is not known. */
export function dialThere(
  programme: Programme,
  progress: Progress,
  { kind, step }: Measuring,
): number | null {
  if (kind === 'readShort') return shownStop(programme.layout.steps[step]!.angle)
  const dial = dialOf(programme, progress, step)
  return dial === null ? null : shownDial(dial)
}

/**
 * What has to be asked before a reading is used, the most telling first; nothing when it fits record, trials, bender
 * and what a tube can do.
 */
export function questionsAbout(
  programme: Programme,
  progress: Progress,
  screen: Measuring,
  reading: Reading,
): Asked[] {
  const { angle } = programme.layout.steps[screen.step]!
  const { dial, measured } = reading
  const far = dial === null ? null : askAboutDial(dial, programme.tooling.maxAngle)
  const doubt =
    dial === null
      ? askAboutBlindAngle(angle, measured)
      : askAboutAngle({ dial, measured }, knownSpringbacks(programme, progress))
  const asked: Asked[] = far ? [{ kind: 'dial', sentence: far }] : []
  if (screen.kind === 'readShort') {
    const left = measured < angle
    if (doubt && left && dial !== null)
      asked.push({
        kind: 'angle',
        sentence: say`${doubt}; the dial target would then be ${benchAngle(goOnTo(angle, { dial, measured }))}°`,
      })
    else if (doubt) asked.push({ kind: 'angle', sentence: doubt })
    if (!left)
      asked.push({
        kind: 'past',
        sentence: say`${benchAngle(measured)}° is already the full ${benchAngle(angle)}°: nothing is left to bend`,
      })
    return asked
  }
  const there = dialThere(programme, progress, screen)
  if (doubt) asked.push({ kind: 'angle', sentence: doubt })
  else if (measured >= angle + OVERBENT_DEG && dial !== null && dial === there)
    asked.push({
      kind: 'overbent',
      sentence: say`${benchAngle(measured)}° is ${benchAngle(measured - angle)}° more than required. The target on the dial was ${benchAngle(there)}°: what did it read?`,
    })
  return asked
}
