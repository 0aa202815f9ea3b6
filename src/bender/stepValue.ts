import type { HalfTurnWay, OrderedBend } from '../solve/bendOrder.ts'
import { afterBend } from './afterBend.ts'
import {
  type BenchSetup,
  type BenchState,
  bending,
  holdProblem,
  settingUp,
  sidesAt,
  turnFor,
} from './housing.ts'
import { isHalfTurn } from './layOut.ts'
import type { MotionPlan, SideJob } from './motionPlan.ts'
import { slidesOn } from './slidesOn.ts'
import { NotKnown, sweep } from './sweep.ts'
import type { TubePart } from './tubePart.ts'

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

/** The clearance of one side of the tube in some motions, mm. */
interface SideFigure {
  /** Up to and with the outermost bend made. */
  readonly body: number
  /** The straight from there to the end. */
  readonly end: number
}

/** Step values of one run, with what they are made of. */
export interface StepValues {
  readonly of: StepValue
  /** Sides of the tube that had to be looked at. */
  readonly examined: () => number
  readonly ceiling: number
  readonly figures: ReadonlyMap<string, SideFigure>
}

/** Which motions a figure is of, and what they hang on besides the bends made on their side. */
interface Motions {
  readonly key: string
  plans(sides: ReturnType<typeof sidesAt>): readonly MotionPlan[]
}

/**
 * Step values, with every figure remembered by what it depends on: the motion, the bend (and the one before, where
 * the slide or the roll comes from it), and on which side of the die which bends are made. A bend more at the outside of
 * a side leaves what lies within as it was: only that bend and the straights beside it are looked at then.
 * @param before of the same run: what they found above their ceiling is known here if this one is no higher.
 */
export function stepValue(setup: BenchSetup, { floor, ceiling }: Worth, before?: StepValues): StepValues {
  const count = setup.wanted.length
  const figures = new Map<string, SideFigure>()
  // What was above a ceiling stays so; what was at or under another floor is not known any better.
  if (before !== undefined && ceiling <= before.ceiling)
    for (const [key, known] of before.figures)
      if (known.body >= ceiling && known.end >= ceiling) figures.set(key, known)
  const memo = new Map<string, number>()
  let examined = 0
  const least = (jobs: readonly SideJob[], so = ceiling) =>
    Math.min(so, leastOf(jobs, setup.od / 2, Math.min(so, ceiling), floor))

  /** One side of the tube, `made` being the bends made on it from the die outwards. */
  const sideFigure = (
    state: BenchState,
    side: SideJob['side'],
    made: readonly number[],
    { key, plans }: Motions,
  ): SideFigure => {
    const id = `${key}${side}${made.join('.')}`
    const known = figures.get(id)
    if (known !== undefined) return known
    const last = made.at(-1)
    const within = last === undefined ? null : sideFigure(state, side, made.slice(0, -1), { key, plans })
    let figure: SideFigure
    // What is of the bend in hand alone (the stock that comes by) hangs on the first bend made on its side, no farther.
    const inner = made.length > 1 ? within!.body : ceiling
    if (inner <= floor) figure = { body: inner, end: ceiling }
    else {
      examined++
      // The other side is as the state has it: what this one hangs on there is in the key.
      const lies = sidesAt(setup, { ...state, made: onSide(state, side, made) })
      const own = lies[side]
      const { parts } = own
      const arc = last === undefined ? -1 : parts.findIndex(p => p.kind === 'arc' && p.of.index === last)
      const fresh = parts.slice(Math.max(0, arc - 1))
      const none = { front: { ...lies.front, parts: [] }, tail: { ...lies.tail, parts: [] } }
      const jobs = plans({ ...none, [side]: { ...own, parts: fresh } })
        .flatMap(plan => plan.jobs)
        .filter(job => job.side === side)
      // Held stretches are cut off the first of the parts, never off the last.
      const after = last === undefined ? 1 : parts.length - 1 - arc
      const ofEnd = (job: SideJob) => job.parts.slice(Math.max(0, job.parts.length - after))
      const ofArc = (job: SideJob) => job.parts.slice(job.parts.length - after - 1, job.parts.length - after)
      const ofRest = (job: SideJob) => job.parts.slice(0, Math.max(0, job.parts.length - after - 1))
      const outward = (parts: (job: SideJob) => readonly TubePart[]) =>
        jobs.flatMap(job => (job.outward ? { ...job, parts: parts(job) } : []))
      let body = inner
      if (made.length <= 1) {
        const ofBend = jobs.filter(j => !j.outward)
        body = least(ofBend, body)
      }
      // Most often all of it is clear, the straight before the bend too, which was part of a longer one.
      const clear =
        body >= ceiling &&
        (within === null || within.end >= ceiling) &&
        least(outward(job => job.parts.slice(Math.max(0, job.parts.length - after - 1)))) >= ceiling
      if (!clear && body > floor && last !== undefined) {
        body = least(outward(ofArc), body)
        if (body > floor && within!.end < body) body = least(outward(ofRest), body)
      }
      const end = clear || body <= floor ? ceiling : least(outward(ofEnd))
      figure = { body, end }
    }
    figures.set(id, figure)
    return figure
  }

  const value: StepValue = state => {
    const { bend, lead, before, made } = state
    const slides = slidesOn(setup, state)
    const towardsA: number[] = []
    const towardsB: number[] = []
    for (let b = bend - 1; b >= 0; b--) if (made(b)) towardsA.push(b)
    for (let b = bend + 1; b < count; b++) if (made(b)) towardsB.push(b)
    const [front, tail] = lead === 'A' ? [towardsA, towardsB] : [towardsB, towardsA]
    const own = `${setup.stock.trim === 0 ? '' : setup.trimAt}${lead}${bend}`
    const held = heldAt(state, own, front[0], tail[0])
    if (held <= floor) return held
    const via = before === null ? 'first' : slides ? `${before.bend}` : 'in'
    let so = held
    const both = (motions: Motions): number => {
      const ahead = sideFigure(state, 'front', front, motions)
      const first = Math.min(ahead.body, ahead.end)
      if (first <= floor) return first
      const behind = sideFigure(state, 'tail', tail, motions)
      return Math.min(first, behind.body, behind.end)
    }
    so = Math.min(so, both({ key: `${own}b`, plans: lies => [bending(setup, state, lies)] }))
    if (so > floor) so = Math.min(so, both({ key: `${own}a`, plans: lies => afterBend(setup, state, lies) }))
    if (so > floor)
      so = Math.min(
        so,
        both({
          key: `${own}s${via}|`,
          plans: lies => settingUp(setup, state, lies).filter(p => p.motion !== 'turn'),
        }),
      )
    if (so > floor && slides && before !== null) {
      const turning = (way: HalfTurnWay) =>
        both({
          key: `${own}${way}${via}|`,
          plans: lies => settingUp(setup, { ...state, way }, lies).filter(p => p.motion === 'turn'),
        })
      let turned = turning('clockwise')
      if (isHalfTurn(turnFor(setup, state)) && turned < ceiling)
        turned = Math.max(turned, turning('counter-clockwise'))
      so = Math.min(so, turned)
    }
    return so >= ceiling ? Number.POSITIVE_INFINITY : so
  }

  /** Whether the tube can be held hangs on the nearest bends made on either side. */
  const heldAt = (state: BenchState, own: string, ahead?: number, behind?: number): number => {
    const key = `${own}h${ahead}|${behind}`
    let found = memo.get(key)
    if (found === undefined) {
      const nearest = (b: number) => b === ahead || b === behind
      const problem = holdProblem(setup, sidesAt(setup, { ...state, made: nearest }), state)
      found = problem === null ? Number.POSITIVE_INFINITY : UNHELD
      memo.set(key, found)
    }
    return found
  }
  return { of: value, examined: () => examined, ceiling, figures }
}

/** The state's bends, but on one side of the die those given. */
function onSide({ bend, lead, made }: BenchState, side: SideJob['side'], given: readonly number[]) {
  const towardsA = (side === 'front') === (lead === 'A')
  return (b: number) => (b < bend === towardsA ? given.includes(b) : made(b))
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
