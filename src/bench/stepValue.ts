import { afterBend } from './afterBend.ts'
import {
  type BenchSetup,
  type BenchState,
  bending,
  holdProblem,
  type MotionPlan,
  settingUp,
  sidesAt,
  slidesOn,
} from './housing.ts'
import type { OrderedBend } from './layOut.ts'
import { NotKnown, sweep } from './sweep.ts'

/** What a step counts that cannot be held, or of which nothing is known: worse than any contact. */
export const UNHELD = -1e6

/** `mask` names the set of bends made. */
export type StepValue = (state: BenchState & { mask: number | string }) => number

/**
 * Least certified clearance of one step, with every figure remembered by what it depends on: the motion, the
 * bend (and the one before, where the roll comes from it), and the bends made between the die and the part.
 * At or under `floor` the step is of no use and its figure is not pursued further.
 */
export function stepValue(
  setup: BenchSetup,
  memo: Map<string, number>,
  seen: Set<string>,
  floor: number,
): StepValue {
  return state => {
    const slides = slidesOn(setup, state)
    const own = `${setup.trimAt}${state.lead}${state.bend}`
    const whole = `${own}:${state.mask}:${slides ? (state.before?.bend ?? -1) : 'in'}`
    const known = memo.get(whole)
    if (known !== undefined) return known
    seen.add(whole)
    const sides = sidesAt(setup, state)
    let least = Number.POSITIVE_INFINITY
    if (holdProblem(setup, sides, state.bend) !== null) least = UNHELD
    else {
      const plans: [string, MotionPlan][] = [
        [own, bending(setup, state, sides)],
        ...settingUp(setup, state, sides).map((p): [string, MotionPlan] => [
          `${own}/${slides ? (state.before?.bend ?? -1) : 'in'}`,
          p,
        ]),
        ...afterBend(setup, state, sides).map((p): [string, MotionPlan] => [own, p]),
      ]
      for (const [key, plan] of plans) {
        if (least <= floor) break
        least = Math.min(least, planValue(setup, plan, key, memo, floor))
      }
    }
    memo.set(whole, least)
    return least
  }
}

/** The sweep's certified figure; what cannot be known is as good as what cannot be held. */
function leastOf(...swept: Parameters<typeof sweep>): number {
  try {
    return sweep(...swept)?.atLeast ?? Number.POSITIVE_INFINITY
  } catch (error) {
    if (error instanceof NotKnown) return UNHELD
    throw error
  }
}

function planValue(
  setup: BenchSetup,
  plan: MotionPlan,
  key: string,
  memo: Map<string, number>,
  floor: number,
): number {
  let least = Number.POSITIVE_INFINITY
  for (const [j, job] of plan.jobs.entries()) {
    let way = `${plan.motion}${key}#${j}`
    let inner = Number.POSITIVE_INFINITY
    for (const part of job.parts) {
      // A part's place depends on the bends passed on the way out; a straight ends at the next of them.
      if (part.of.kind === 'bend') way += `,${part.of.index}`
      const id = part.of.kind === 'bend' ? way : `${way}-${part.of.index}`
      let value = memo.get(id)
      if (value === undefined) {
        value = leastOf([{ ...job, parts: [part] }], setup.od / 2, inner, floor)
        memo.set(id, value)
      }
      inner = Math.min(inner, value)
      if (inner <= floor) return inner
    }
    least = Math.min(least, inner)
  }
  return least
}

/** The least of an order's step values. */
export function orderValue(order: readonly OrderedBend[], value: StepValue): number {
  const done = new Set<number>()
  let least = Number.POSITIVE_INFINITY
  order.forEach((step, i) => {
    const before = order[i - 1] ?? null
    // A list, not bits: past 31 bends a 32-bit set would run over.
    const mask = [...done].sort((x, y) => x - y).join('.')
    least = Math.min(least, value({ ...step, before, mask, made: b => done.has(b) }))
    done.add(step.bend)
  })
  return least
}
