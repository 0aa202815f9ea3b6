import { afterBend } from './afterBend.ts'
import {
  type BenchSetup,
  type BenchState,
  bending,
  holdProblem,
  type MotionPlan,
  type SideJob,
  settingUp,
  sidesAt,
  slidesOn,
  turnFor,
} from './housing.ts'
import { isHalfTurn, type OrderedBend } from './layOut.ts'
import { NotKnown, sweep } from './sweep.ts'

/** What a step counts that cannot be held, or of which nothing is known: worse than any contact. */
export const UNHELD = -1e6

/** Between which figures a step's clearance is worth finding out, mm. */
export interface Worth {
  /** At or under this it is of no use, however little it is. */
  readonly floor: number
  /** Above this it is good, however much it is. */
  readonly ceiling: number
}

/**
 * Least certified clearance of one step, mm: within the sweep's tolerance between floor and ceiling, some figure at or
 * under the floor, or Infinity above the ceiling. A half turn goes the way that clears by more.
 */
export type StepValue = (state: BenchState) => number

/**
 * Step values, with every figure remembered by what it depends on: the motion, the bend (and the one before, where
 * the slide or the roll comes from it), and on which side of the die which bends are made.
 */
export function stepValue(
  setup: BenchSetup,
  { floor, ceiling }: Worth,
): StepValue & { readonly examined: () => number } {
  const count = setup.wanted.length
  const figures = new Map<string, number>()
  let examined = 0
  const value: StepValue = state => {
    const { bend, lead, before, made } = state
    const slides = slidesOn(setup, state)
    const towardsA = sideKey(0, bend, made)
    const towardsB = sideKey(bend + 1, count, made)
    const [front, tail] = lead === 'A' ? [towardsA, towardsB] : [towardsB, towardsA]
    const own = `${setup.stock.trim === 0 ? '' : setup.trimAt}${lead}${bend}`
    const via = before === null ? 'first' : slides ? `${before.bend}` : 'in'
    let sides: ReturnType<typeof sidesAt> | null = null
    const lies = () => {
      sides ??= sidesAt(setup, state)
      return sides
    }
    let least = Number.POSITIVE_INFINITY
    /** One side of the tube in some motions: looked at only while the step is still of use. */
    const figure = (key: string, side: SideJob['side'], plans: () => readonly MotionPlan[]): number => {
      const id = `${key}|${side === 'front' ? front : tail}`
      let found = figures.get(id)
      if (found === undefined) {
        examined++
        const jobs = plans().flatMap(plan => plan.jobs.filter(job => job.side === side))
        found = leastOf(jobs, setup.od / 2, ceiling, floor)
        figures.set(id, found)
      }
      return found
    }
    const both = (key: string, plans: () => readonly MotionPlan[]): number => {
      const ahead = figure(`${key}f`, 'front', plans)
      return ahead <= floor ? ahead : Math.min(ahead, figure(`${key}t`, 'tail', plans))
    }
    const holdKey = `${own}h|${front}|${tail}`
    let held = figures.get(holdKey)
    if (held === undefined) {
      held = holdProblem(setup, lies(), state) === null ? Number.POSITIVE_INFINITY : UNHELD
      figures.set(holdKey, held)
    }
    least = held
    if (least > floor)
      least = Math.min(
        least,
        both(`${own}o`, () => [bending(setup, state, lies()), ...afterBend(setup, state, lies())]),
      )
    if (least > floor)
      least = Math.min(
        least,
        both(`${own}s${via}`, () => settingUp(setup, state, lies()).filter(p => p.motion !== 'turn')),
      )
    if (least > floor && slides && before !== null) {
      const turning = (way: OrderedBend['way'] & string) =>
        both(`${own}${way}${via}`, () =>
          settingUp(setup, { ...state, way }, lies()).filter(p => p.motion === 'turn'),
        )
      let turned = turning('clockwise')
      if (isHalfTurn(turnFor(setup, state)) && turned < ceiling)
        turned = Math.max(turned, turning('counter-clockwise'))
      least = Math.min(least, turned)
    }
    return least
  }
  return Object.assign(value, { examined: () => examined })
}

/** The bends made from one number to another (left out), as text: a number while it has bits enough for them. */
function sideKey(from: number, to: number, made: (bend: number) => boolean): string {
  if (to - from > 30) {
    let list = ''
    for (let b = from; b < to; b++) if (made(b)) list += `.${b}`
    return list
  }
  let bits = 0
  for (let b = from; b < to; b++) if (made(b)) bits |= 1 << (b - from)
  return `${bits}`
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

/** The least of an order's step values; not pursued once it is at or under the floor. */
export function orderValue(order: readonly OrderedBend[], value: StepValue, floor: number): number {
  const done = new Set<number>()
  let least = Number.POSITIVE_INFINITY
  for (const [i, step] of order.entries()) {
    least = Math.min(least, value({ ...step, before: order[i - 1] ?? null, made: b => done.has(b) }))
    if (least <= floor) return least
    done.add(step.bend)
  }
  return least
}
