import type { MotionClearance, StepClearance } from '../../bender/clearStep.ts'
import { capital } from '../../document/capital.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import { benchAngle, benchLength, unitWord } from './figures.ts'

export const MOTION_WORDS: Record<MotionClearance['motion'], string> = {
  putIn: 'putting in',
  slide: 'sliding',
  turn: 'rotating',
  bend: 'bending',
  armBack: 'arm returning',
  takeOut: 'taking out',
}

/** The same on a button. */
export const MOTION_NAMES: typeof MOTION_WORDS = { ...MOTION_WORDS, armBack: 'arm back' }

/** Nearer than this is called close on screen. mm; common practice, no source: a finger's width. */
export const CLOSE_MM = 10

/** Less depth than this reads as 0.0 mm. */
const SEEN_MM = 0.05

export type Judgement = 'contact' | 'close' | 'clear' | 'notChecked'

/** A depth is contact, or as near to it as cannot be told from it; no depth is clear over the whole motion. */
export function judge(clearance: MotionClearance | null): Judgement {
  if (clearance === null || clearance.atLeast === null) return 'notChecked'
  if (clearance.depth !== null) return 'contact'
  return clearance.atLeast < CLOSE_MM ? 'close' : 'clear'
}

/** "bend 1", "straight 3": from end A, counted from 1. */
export const partWords = (part: MotionClearance['part']): string =>
  part === null ? 'the tube' : `${part.kind} ${part.index + 1}`

/** Motion, where in it, and which part comes near which solid. */
export function placeWords(c: MotionClearance, unit: LengthUnit): string {
  const at = c.at === null ? '' : ` ${whereIn(c, c.at, unit)}`
  return `${MOTION_WORDS[c.motion]}${at}: ${partWords(c.part)} and ${c.solid ?? 'the bender'}`
}

/** One plain sentence: motion, where in it, part, solid, how near or how deep. */
export function clearanceSentence(c: MotionClearance, unit: LengthUnit): string {
  const motion = MOTION_WORDS[c.motion]
  if (c.unknown !== null) return `${motion}: not checked, ${c.unknown}`
  if (c.atLeast === null || c.at === null)
    return `${motion}: not checked${c.motion === 'armBack' ? ', no solid is given that moves with the arm' : ''}`
  const length = (mm: number) => `${benchLength(mm, unit)} ${unitWord(unit)}`
  return c.depth !== null
    ? `${placeWords(c, unit)} ${meeting(c.depth, unit)}`
    : `${motion}, at least ${length(Math.max(0, c.atLeast))} everywhere; least ${whereIn(c, c.at, unit)} between ${partWords(c.part)} and ${c.solid ?? 'the bender'}`
}

const meeting = (depth: number, unit: LengthUnit): string =>
  depth < SEEN_MM ? 'touch' : `meet, ${benchLength(depth, unit)} ${unitWord(unit)} deep`

/** Why the arm is not brought back past the tube: where in its way what meets, how deep. */
export const barredWords = (c: MotionClearance, unit: LengthUnit): string =>
  `the arm cannot return past the tube: ${c.at === null ? '' : `${whereIn(c, c.at, unit)} `}${partWords(c.part)} and ${c.solid ?? 'the bender'} ${meeting(c.depth ?? 0, unit)}`

/** What helps where the arm cannot go back past the tube, as far as lifting it out beside the standing arm was checked. */
export function wayOutWords(lift: MotionClearance | null, unit: LengthUnit): string | null {
  if (lift === null || lift.atLeast === null) return null
  return lift.depth === null
    ? `remove the tube before returning the arm, if this bender opens far enough: it comes out with ${benchLength(lift.atLeast, unit)} ${unitWord(unit)} to spare`
    : `removed before the arm returns, the tube would touch as well: ${placeWords(lift, unit)}`
}

const whereIn = (c: MotionClearance, at: number, unit: LengthUnit): string =>
  c.unit === 'deg' ? `at ${benchAngle(at)}°` : `at ${benchLength(at, unit)} ${unitWord(unit)}`

/** Words as a sentence of their own. */
export const asSentence = (text: string): string => `${capital(text)}.`

/** The bend of an order (0-based from end A) with the least clearance, or null when none was checked. */
export function worstOf(
  steps: readonly StepClearance[],
): { readonly bend: number; readonly clearance: MotionClearance } | null {
  let worst: { bend: number; clearance: MotionClearance } | null = null
  steps.forEach(s => {
    const c = s.worst
    if (c?.atLeast != null && (worst === null || c.atLeast < (worst.clearance.atLeast ?? Infinity)))
      worst = { bend: s.step.bend, clearance: c }
  })
  return worst
}

/** The motions of a step in which the tube meets the bender. */
export const hitsOf = (step: StepClearance | undefined): readonly MotionClearance[] =>
  step?.motions.filter(m => judge(m) === 'contact') ?? []
