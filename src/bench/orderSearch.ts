import { clearOrder, type StepClearance } from './clearStep.ts'
import {
  type BenchSetup,
  type BenchState,
  bending,
  holdProblem,
  type MotionPlan,
  settingUp,
  sidesAt,
  slidesOn,
  takingOut,
} from './housing.ts'
import { type Lead, type OrderedBend, orderFrom } from './layOut.ts'
import { SWEEP_TOLERANCE_MM, sweep } from './sweep.ts'

/** Up to this many bends every order is searched; past it only the practical ones. */
export const EXACT_BENDS = 12
/** Clearances this near are equal: the sweep does not tell them apart. */
const EQUAL_MM = SWEEP_TOLERANCE_MM
/** What a step counts that cannot be held: worse than any contact. */
const UNHELD = -1e6

/** An order of work with what it comes near to. */
export interface JudgedOrder {
  readonly order: readonly OrderedBend[]
  /** Certified least clearance over all steps and motions, mm; null when the bender has no solids. */
  readonly atLeast: number | null
  readonly turnarounds: number
  readonly steps: readonly StepClearance[]
  /** True when every motion is clear and every step can be held. */
  readonly clears: boolean
}

export interface OrderSearchResult {
  readonly best: JudgedOrder
  readonly aFirst: JudgedOrder
  readonly bFirst: JudgedOrder
  /** True: no order of any kind is better. False: only A-first, B-first and both-ends-to-the-middle were looked at. */
  readonly exact: boolean
  /** Why nothing clears, as a sentence; null when the best order does. */
  readonly blocked: string | null
  /** Steps whose clearance had to be found out. */
  readonly examined: number
}

export interface OrderSearchOptions {
  /** Called now and then with the share done in [0, 1]; return false to stop. */
  readonly onProgress?: (done: number) => boolean | undefined
  readonly signal?: { readonly aborted: boolean }
}

/** Thrown when the caller stopped the search. */
export class OrderSearchCancelled extends Error {
  override readonly name = 'OrderSearchCancelled'
}

/** Clearance of every step of a given order. Used for the user's own order as well. */
export function judgeOrder(setup: BenchSetup, order: readonly OrderedBend[]): JudgedOrder {
  const trimmed = { ...setup, trimAt: trailing(order[0]?.lead ?? 'A') }
  const steps = clearOrder(trimmed, order)
  const figures = steps.flatMap(s => (s.worst?.atLeast == null ? [] : [s.worst.atLeast]))
  return {
    order,
    atLeast: figures.length === 0 ? null : Math.min(...figures),
    turnarounds: turnaroundsIn(order),
    steps,
    clears: steps.every(s => s.hold === null && s.motions.every(m => m.depth === null)),
  }
}

const trailing = (lead: Lead): Lead => (lead === 'A' ? 'B' : 'A')
const turnaroundsIn = (order: readonly OrderedBend[]): number =>
  order.filter((o, i) => i > 0 && order[i - 1]!.lead !== o.lead).length

/**
 * The order of bends, each from either end, whose least clearance over all motions is largest; among equals
 * the one with fewest end-for-end turnarounds. What a bend's motions come near depends only on which bends are
 * made and which was the last, so the search runs over sets of bends (dynamic programming, 2^n·n states), up to
 * EXACT_BENDS; past that over A-first, B-first and every split that works from both ends to the middle.
 * @throws OrderSearchCancelled when `signal` is aborted or `onProgress` returns false.
 */
export function searchOrder(setup: BenchSetup, options: OrderSearchOptions = {}): OrderSearchResult {
  const count = setup.wanted.length
  const stop = () => options.signal?.aborted === true
  const tell = (done: number) => {
    if (stop() || options.onProgress?.(done) === false) throw new OrderSearchCancelled('order search stopped')
  }
  tell(0)
  const aFirst = judgeOrder(setup, orderFrom('A', count))
  const bFirst = judgeOrder(setup, orderFrom('B', count))
  const exact = count <= EXACT_BENDS
  const memo = new Map<string, number>()
  const seen = new Set<string>()
  let best = better(bFirst, aFirst) ? bFirst : aFirst
  const value = (trimAt: Lead) => stepValue({ ...setup, trimAt }, memo, seen)

  if (!exact) {
    const splits: OrderedBend[][] = []
    for (let m = 1; m < count; m++) {
      const fromA = orderFrom('A', count).slice(0, m)
      const fromB = orderFrom('B', count).slice(0, count - m)
      splits.push([...fromA, ...fromB], [...fromB, ...fromA])
    }
    splits.forEach((order, i) => {
      tell(i / splits.length)
      const judged = judgeOrder(setup, order)
      if (better(judged, best)) best = judged
    })
  } else if (count > 0 && hasSolids(setup)) {
    // The trim sits at the end that trails first, so the two first ends are two searches.
    for (const [i, first] of (['A', 'B'] as const).entries()) {
      const found = overSets(count, first, worth(best), value(trailing(first)), done => tell((i + done) / 2))
      if (found === null) continue
      const judged = judgeOrder(setup, found)
      if (better(judged, best)) best = judged
    }
  }
  tell(1)
  return { best, aFirst, bFirst, exact, blocked: whyBlocked(best), examined: seen.size }
}

const hasSolids = (setup: BenchSetup) => setup.solids.housing.length + setup.solids.arm.length > 0

/** One figure for an order: its clearance, or UNHELD when a step cannot be held. */
const worth = (o: JudgedOrder): number =>
  o.steps.some(s => s.hold !== null) ? UNHELD : (o.atLeast ?? Number.POSITIVE_INFINITY)

function better(a: JudgedOrder, b: JudgedOrder): boolean {
  const [x, y] = [worth(a), worth(b)]
  if (x === y || Math.abs(x - y) <= EQUAL_MM) return a.turnarounds < b.turnarounds
  return x > y
}

type StepValue = (state: BenchState & { mask: number }) => number

/**
 * Best order over sets, or null when none beats `toBeat` by more than EQUAL_MM. Two passes over the same
 * figures: the largest least clearance first, then the fewest turnarounds among the orders that reach it.
 */
function overSets(
  count: number,
  first: Lead,
  toBeat: number,
  value: StepValue,
  tell: (done: number) => void,
): OrderedBend[] | null {
  const sets = 2 ** count
  const slots = count * 2
  const slot = (o: OrderedBend) => o.bend * 2 + (o.lead === 'A' ? 0 : 1)
  const ofSlot = (s: number): OrderedBend => ({ bend: s >> 1, lead: s % 2 === 0 ? 'A' : 'B' })
  const leads: Lead[] = ['A', 'B']
  const all = Array.from({ length: count }, (_, bend) => bend)

  /** Walks every reachable step once, sets in rising order, and lets `take` decide what is worth going on with. */
  const walk = (
    share: number,
    plus: number,
    reached: (mask: number, last: number) => number,
    take: (mask: number, last: number, to: number, step: () => number) => void,
  ) => {
    for (let mask = 0; mask < sets; mask++) {
      if (mask % 16 === 0) tell(plus + (share * mask) / sets)
      const lasts = mask === 0 ? [-1] : Array.from({ length: slots }, (_, s) => s)
      for (const last of lasts) {
        if (reached(mask, last) === Number.NEGATIVE_INFINITY) continue
        const before = last < 0 ? null : ofSlot(last)
        for (const bend of all) {
          if (mask & (1 << bend)) continue
          for (const lead of before === null ? [first] : leads)
            take(mask, last, slot({ bend, lead }), () =>
              value({ bend, lead, before, mask, made: b => (mask & (1 << b)) !== 0 }),
            )
        }
      }
    }
  }

  const least = new Float64Array(sets * slots).fill(Number.NEGATIVE_INFINITY)
  const bar = toBeat + EQUAL_MM
  const leastAt = (mask: number, last: number) =>
    last < 0 ? Number.POSITIVE_INFINITY : least[mask * slots + last]!
  walk(0.8, 0, leastAt, (mask, last, to, step) => {
    const so = leastAt(mask, last)
    const at = (mask | (1 << (to >> 1))) * slots + to
    if (so <= bar || so <= least[at]!) return
    const reach = Math.min(so, step())
    if (reach > bar && reach > least[at]!) least[at] = reach
  })
  const end = (sets - 1) * slots
  const top = Math.max(...least.slice(end, end + slots))
  if (top === Number.NEGATIVE_INFINITY) return null

  const good = top - EQUAL_MM
  const turns = new Float64Array(sets * slots).fill(Number.POSITIVE_INFINITY)
  const came = new Int16Array(sets * slots).fill(-1)
  const turnsAt = (mask: number, last: number) => (last < 0 ? 0 : turns[mask * slots + last]!)
  walk(
    0.2,
    0.8,
    (mask, last) => (turnsAt(mask, last) < Number.POSITIVE_INFINITY ? 0 : Number.NEGATIVE_INFINITY),
    (mask, last, to, step) => {
      const at = (mask | (1 << (to >> 1))) * slots + to
      const turned = turnsAt(mask, last) + (last >= 0 && last % 2 !== to % 2 ? 1 : 0)
      if (turned >= turns[at]! || step() < good) return
      turns[at] = turned
      came[at] = last
    },
  )
  let last = -1
  for (let s = 0; s < slots; s++)
    if (turns[end + s]! < (last < 0 ? Number.POSITIVE_INFINITY : turns[end + last]!)) last = s
  const order: OrderedBend[] = []
  for (let mask = sets - 1; last >= 0; ) {
    order.unshift(ofSlot(last))
    const from = came[mask * slots + last]!
    mask &= ~(1 << (last >> 1))
    last = from
  }
  return order
}

/**
 * Least certified clearance of one step, with every figure remembered by what it depends on: the motion, the
 * bend (and the one before, where the roll comes from it), and the bends made between the die and the part.
 */
function stepValue(setup: BenchSetup, memo: Map<string, number>, seen: Set<string>): StepValue {
  return state => {
    const slides = slidesOn(state)
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
        [own, takingOut(setup, state, sides)],
      ]
      for (const [key, plan] of plans) least = Math.min(least, planValue(setup, plan, key, memo))
    }
    memo.set(whole, least)
    return least
  }
}

function planValue(setup: BenchSetup, plan: MotionPlan, key: string, memo: Map<string, number>): number {
  let least = Number.POSITIVE_INFINITY
  for (const { name, side, jobs } of plan.sides) {
    let way = `${plan.motion}${key}${name}`
    let inner = Number.POSITIVE_INFINITY
    for (const part of side.parts) {
      // A part's place depends on the bends passed on the way out; a straight ends at the next of them.
      if (part.of.kind === 'bend') way += `,${part.of.index}`
      const id = part.of.kind === 'bend' ? way : `${way}-${part.of.index}`
      let value = memo.get(id)
      if (value === undefined) {
        value = sweep(jobs(part), setup.od / 2, inner)?.atLeast ?? Number.POSITIVE_INFINITY
        memo.set(id, value)
      }
      inner = Math.min(inner, value)
    }
    least = Math.min(least, inner)
  }
  return least
}

function whyBlocked(best: JudgedOrder): string | null {
  if (best.clears) return null
  for (const { step, hold, motions } of best.steps) {
    if (hold !== null) {
      const what = hold.need === 'clampGrip' ? 'the clamp needs' : 'the follower needs'
      return `no order can be held: at bend ${step.bend + 1} ${what} ${hold.limit.toFixed(1)} mm of straight, there are ${hold.measured.toFixed(1)} mm`
    }
    const touch = motions.find(m => m.depth !== null)
    if (touch?.part && touch.at !== null)
      return `no order clears: in the best one, at bend ${step.bend + 1}, ${touch.part.kind} ${touch.part.index + 1} touches the ${touch.solid}, ${touch.depth?.toFixed(1)} mm deep`
  }
  return 'no order clears'
}
