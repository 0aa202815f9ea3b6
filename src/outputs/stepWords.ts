import type { OnPart } from '../bender/onPart.ts'
import { orderMark } from '../bender/orderMark.ts'
import { orderWords } from '../bender/orderText.ts'
import type { StepAtDie } from '../bender/stepAtDie.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'

/** What a step says of its mark and of the ends, the same on screen and on paper. Figures stand beside, not in it. */

/** "from end B": where the mark on the straight stock is measured from. */
export const markFrom = ({ markEnd }: Pick<StepAtDie, 'markEnd'>): string => `from end ${markEnd}`

/** "from end B", "from the back of bend 2": where the mark is measured from on the part. */
export const onPartFrom = ({ from }: Pick<OnPart, 'from'>): string =>
  `from ${from.startsWith('back') ? 'the ' : ''}${from}`

/** Which end goes in first, and what lies on the die's reference line. */
export const towardsClamp = ({ markEnd, bend }: Pick<StepAtDie, 'markEnd' | 'bend'>): string =>
  `End ${markEnd} towards the clamp; mark ${bend} on the die line`

/** What is done before a bend that the other end leads. */
export const endForEnd = ({ markEnd }: Pick<StepAtDie, 'markEnd'>): string =>
  `Keep it flat and turn it end for end; end ${markEnd} now goes in first.`

/** What comes before all else where the tube does not stay in from the bend before; null where it does. */
export const takeOut = ({ takenOut }: Pick<StepAtDie, 'takenOut'>): string | null =>
  takenOut === null
    ? null
    : takenOut === 'armStanding'
      ? 'Take the tube out, then return the arm.'
      : 'Take the tube out.'

/** Which way the tube slides to its mark, for whoever stands at its tail; null where it does not slide. */
export const slideWay = ({ slide }: Pick<StepAtDie, 'slide'>): string | null =>
  slide === null || slide === 0
    ? null
    : slide > 0
      ? 'away from you, towards the clamp'
      : 'towards you, away from the clamp'

/** What is done with the tube before a bend, in the order of doing it; the rotation itself is said beside it. */
export function handling(
  step: Pick<StepAtDie, 'index' | 'markEnd' | 'takenOut' | 'turns' | 'slide' | 'turnedEndForEnd'>,
): string[] {
  const end = `end ${step.markEnd} towards the clamp`
  if (step.index === 0) return [`Put in, ${end}.`]
  const out = takeOut(step)
  if (out === null) {
    const way = slideWay(step)
    return [way === null ? 'Leave it at the mark.' : `Slide it ${way}, to the mark.`]
  }
  const back = step.turns ? 'Rotate it as stated, then put it in' : 'Put it in'
  return step.turnedEndForEnd
    ? [`${out} ${endForEnd(step)}`, `${back} at the mark.`]
    : [`${out} ${back} at the mark, ${end}.`]
}

/** When the trim comes off, and where; `length` with its unit. */
export const trimOff = (length: string, end: Lead): string =>
  `After the last bend, cut ${length} off end ${end}.`

/** The order of bends in one line; null where it is the plain one, from end A on. */
export function orderLine(order: readonly OrderedBend[]): string | null {
  if (order.length < 2 || orderMark(order) === '') return null
  const mixed = order.some(o => o.lead !== order[0]!.lead)
  const means = mixed
    ? 'each bend with the end that goes through the clamp first'
    : 'the end that goes through the clamp first, then the bends'
  const way = order.some(o => o.way === 'counter-clockwise')
    ? '; CCW: its half turn goes counter-clockwise'
    : ''
  return `Bending order: ${orderWords(order)} (${means}${way}).`
}

/** Said where a mark cannot be measured on the part. */
export const NO_MARK_ON_PART = 'This mark does not lie on straight tube: it cannot be measured.'
