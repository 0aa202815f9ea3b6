import type { MotionClearance, StepClearance } from '../../bench/clearStep.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import { benchAngle, benchLength, unitWord } from './figures.ts'

export const MOTION_WORDS: Record<MotionClearance['motion'], string> = {
  putIn: 'putting in',
  slide: 'sliding',
  turn: 'turning',
  bend: 'bending',
  takeOut: 'taking out',
}

/** Nearer than this is called close on screen. mm; common practice, no source: a finger's width. */
export const CLOSE_MM = 10

export type Judgement = 'contact' | 'close' | 'clear' | 'notChecked'

/** Contact is only what was found; a bound below 0 without contact is as near as can be told, so close. */
export function judge(clearance: MotionClearance | null): Judgement {
  if (clearance === null || clearance.atLeast === null) return 'notChecked'
  if (clearance.depth !== null) return 'contact'
  return clearance.atLeast < CLOSE_MM ? 'close' : 'clear'
}

/** "bend 1", "straight 3": from end A, counted from 1. */
export const partWords = (part: MotionClearance['part']): string =>
  part === null ? 'the tube' : `${part.kind} ${part.index + 1}`

/** One plain sentence: motion, where in it, part, solid, how near or how deep. */
export function clearanceSentence(c: MotionClearance, unit: LengthUnit): string {
  const motion = MOTION_WORDS[c.motion]
  if (c.atLeast === null || c.at === null) return `${motion}: not checked`
  const where =
    c.unit === 'deg' ? `at ${benchAngle(c.at)}°` : `at ${benchLength(c.at, unit)} ${unitWord(unit)}`
  const what = `${partWords(c.part)} and ${c.solid ?? 'the bender'}`
  return c.depth !== null
    ? `${motion}, ${where}: ${what} meet, ${benchLength(c.depth, unit)} ${unitWord(unit)} deep`
    : `${motion}: at least ${benchLength(Math.max(0, c.atLeast), unit)} ${unitWord(unit)} everywhere, least ${where} between ${what}`
}

/** The step with the least clearance of an order, or null when none was checked. */
export function worstOf(
  steps: readonly StepClearance[],
): { readonly step: number; readonly clearance: MotionClearance } | null {
  let worst: { step: number; clearance: MotionClearance } | null = null
  steps.forEach((s, step) => {
    const c = s.worst
    if (c?.atLeast != null && (worst === null || c.atLeast < (worst.clearance.atLeast ?? Infinity)))
      worst = { step, clearance: c }
  })
  return worst
}
