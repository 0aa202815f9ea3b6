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
 * made and which was the last, so the search runs over sets of bends (2^n·n states per leading end), up to
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
  const value = (trimAt: Lead, floor: number) => stepValue({ ...setup, trimAt }, memo, seen, floor)

  if (!exact) {
    const splits: OrderedBend[][] = []
    for (let m = 1; m < count; m++) {
      const fromA = orderFrom('A', count).slice(0, m)
      const fromB = orderFrom('B', count).slice(0, count - m)
      splits.push([...fromA, ...fromB], [...fromB, ...fromA])
    }
    const figures = splits.map((order, i) => {
      tell(i / splits.length)
      return orderValue(order, value(trailing(order[0]!.lead), worth(best)))
    })
    const most = Math.max(...figures)
    // All splits turn the tube around once: the best figure decides.
    const judged = judgeOrder(setup, splits[figures.indexOf(most)]!)
    if (better(judged, best)) best = judged
  } else if (count > 0 && hasSolids(setup)) {
    // The trim sits at the end that trails first, so the two first ends are two searches against the same figure.
    const toBeat = worth(best)
    for (const [i, first] of (['A', 'B'] as const).entries()) {
      const found = overSets(count, first, toBeat, value(trailing(first), toBeat), done =>
        tell((i + done) / 2),
      )
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

/** The least of an order's step values. */
function orderValue(order: readonly OrderedBend[], value: StepValue): number {
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

/** `mask` names the set of bends made. */
type StepValue = (state: BenchState & { mask: number | string }) => number

/**
 * Best order over sets, or null when none beats `toBeat` by more than EQUAL_MM. A state is the set of bends made,
 * the last of them and its leading end. States are gone on with best first, so what cannot be part of the answer
 * is never examined: once for the largest least clearance (in steps of EQUAL_MM), once more, among steps that
 * reach it, for the fewest turnarounds.
 */
function overSets(
  count: number,
  first: Lead,
  toBeat: number,
  value: StepValue,
  tell: (done: number) => void,
): OrderedBend[] | null {
  const bar = toBeat + EQUAL_MM
  const widest = bestFirst(count, first, value, done => tell(0.5 * done), {
    start: Number.POSITIVE_INFINITY,
    next: (so, _turned, step) => Math.min(so, step()),
    // Everything within one step of EQUAL_MM ranks the same, or ever so slight gains would be chased first.
    rank: least => Math.floor(least / EQUAL_MM),
    worthwhile: least => least > bar,
  })
  if (widest === null) return null
  const good = Math.floor(widest.score / EQUAL_MM) * EQUAL_MM
  const fewest = bestFirst(count, first, value, done => tell(0.5 + 0.5 * done), {
    start: 0,
    next: (so, turned, step) => (step() >= good ? so - (turned ? 1 : 0) : Number.NEGATIVE_INFINITY),
    rank: score => score,
    worthwhile: score => score > Number.NEGATIVE_INFINITY,
  })
  return (fewest ?? widest).order
}

interface Scoring {
  readonly start: number
  /** Score after one more step, never above the score before it; `step` finds that step's clearance. */
  readonly next: (score: number, turnedAround: boolean, step: () => number) => number
  readonly rank: (score: number) => number
  readonly worthwhile: (score: number) => boolean
}

/** A complete order of highest rank, or null when none is worthwhile. Ties go to the state with more bends made. */
function bestFirst(
  count: number,
  first: Lead,
  value: StepValue,
  tell: (done: number) => void,
  scoring: Scoring,
): { order: OrderedBend[]; score: number } | null {
  const slots = count * 2
  const ofSlot = (s: number): OrderedBend => ({ bend: s >> 1, lead: s % 2 === 0 ? 'A' : 'B' })
  const size = 2 ** count * slots
  const best = new Float64Array(size).fill(Number.NEGATIVE_INFINITY)
  const came = new Int32Array(size).fill(-1)
  const closed = new Uint8Array(size)
  /** Open states by rank and count of bends made: the last of the best list is next. */
  const open = new Map<number, number[][]>()
  const ranks: number[] = []
  const put = (state: number, score: number, made: number) => {
    const rank = scoring.rank(score)
    let lists = open.get(rank)
    if (lists === undefined) {
      lists = Array.from({ length: count + 1 }, () => [])
      open.set(rank, lists)
      ranks.push(rank)
      ranks.sort((x, y) => x - y)
    }
    lists[made]!.push(state)
  }
  const take = (): { state: number; made: number } | null => {
    for (let rank = ranks.at(-1); rank !== undefined; rank = ranks.at(-1)) {
      const lists = open.get(rank)!
      for (let made = count; made >= 1; made--) {
        const state = lists[made]!.pop()
        if (state !== undefined) return { state, made }
      }
      open.delete(rank)
      ranks.pop()
    }
    return null
  }
  const expand = (from: number, made: number) => {
    const mask = from < 0 ? 0 : Math.floor(from / slots)
    const before = from < 0 ? null : ofSlot(from % slots)
    const so = from < 0 ? scoring.start : best[from]!
    for (let to = 0; to < slots; to++) {
      const { bend, lead } = ofSlot(to)
      if (mask & (1 << bend) || (before === null && lead !== first)) continue
      const at = (mask | (1 << bend)) * slots + to
      if (closed[at] || so <= best[at]!) continue
      const score = scoring.next(so, before !== null && before.lead !== lead, () =>
        value({ bend, lead, before, mask, made: b => (mask & (1 << b)) !== 0 }),
      )
      if (!scoring.worthwhile(score) || score <= best[at]!) continue
      best[at] = score
      came[at] = from
      put(at, score, made + 1)
    }
  }
  expand(-1, 0)
  let deepest = 0
  for (let next = take(); next !== null; next = take()) {
    const { state, made } = next
    if (closed[state]) continue
    closed[state] = 1
    deepest = Math.max(deepest, made)
    tell(deepest / (count + 1))
    if (made < count) {
      expand(state, made)
      continue
    }
    const order: OrderedBend[] = []
    for (let s = state; s >= 0; s = came[s]!) order.unshift(ofSlot(s % slots))
    return { order, score: best[state]! }
  }
  return null
}

/**
 * Least certified clearance of one step, with every figure remembered by what it depends on: the motion, the
 * bend (and the one before, where the roll comes from it), and the bends made between the die and the part.
 * At or under `floor` the step is of no use and its figure is not pursued further.
 */
function stepValue(
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
        [own, takingOut(setup, state, sides)],
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

function planValue(
  setup: BenchSetup,
  plan: MotionPlan,
  key: string,
  memo: Map<string, number>,
  floor: number,
): number {
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
        value = sweep(jobs(part), setup.od / 2, inner, floor)?.atLeast ?? Number.POSITIVE_INFINITY
        memo.set(id, value)
      }
      inner = Math.min(inner, value)
      if (inner <= floor) return inner
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
