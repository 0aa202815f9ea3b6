import { inMm, type Sentence, say } from '../document/sentence.ts'
import { atBench } from './benchFindings.ts'
import { bestFirst } from './bestFirst.ts'
import { clearOrder, type StepClearance } from './clearStep.ts'
import type { BenchSetup } from './housing.ts'
import { type Lead, type OrderedBend, orderFrom } from './layOut.ts'
import { orderValue, type StepValue, stepValue, UNHELD } from './stepValue.ts'
import { SWEEP_TOLERANCE_MM } from './sweep.ts'

/** Up to this many bends every order is searched; past it only the practical ones. */
export const EXACT_BENDS = 12
/** Clearances this near are equal: the sweep does not tell them apart. */
const EQUAL_MM = SWEEP_TOLERANCE_MM

/** An order of work with what it comes near to. */
export interface JudgedOrder {
  readonly order: readonly OrderedBend[]
  /** Certified least clearance over all steps and motions, mm; null when the bender has no solids. */
  readonly atLeast: number | null
  readonly turnarounds: number
  readonly steps: readonly StepClearance[]
  /** True when every motion is known to be clear and every step can be held. */
  readonly clears: boolean
}

export interface OrderSearchResult {
  readonly best: JudgedOrder
  readonly aFirst: JudgedOrder
  readonly bFirst: JudgedOrder
  /** True: no order of any kind is better by more than the sweep can tell (0.1 mm). False: only A-first, B-first and both-ends-to-the-middle were looked at. */
  readonly exact: boolean
  /** Why nothing clears, in mm; null when the best order does. */
  readonly blocked: string | null
  /** The same for any unit. */
  readonly blockedBy: Sentence | null
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
    clears: steps.every(s => s.hold === null && s.motions.every(m => m.depth === null && m.unknown === null)),
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
  const blockedBy = whyBlocked(best)
  const blocked = blockedBy && inMm(blockedBy)
  return { best, aFirst, bFirst, exact, blocked, blockedBy, examined: seen.size }
}

const hasSolids = (setup: BenchSetup) => setup.solids.housing.length + setup.solids.arm.length > 0

/** One figure for an order: its clearance, or UNHELD when a step cannot be held or is not known. */
const worth = (o: JudgedOrder): number =>
  o.steps.some(s => s.hold !== null || s.motions.some(m => m.unknown !== null))
    ? UNHELD
    : (o.atLeast ?? Number.POSITIVE_INFINITY)

function better(a: JudgedOrder, b: JudgedOrder): boolean {
  const [x, y] = [worth(a), worth(b)]
  if (x === y || Math.abs(x - y) <= EQUAL_MM) return a.turnarounds < b.turnarounds
  return x > y
}

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

function whyBlocked(best: JudgedOrder): Sentence | null {
  if (best.clears) return null
  for (const { step, hold, motions } of best.steps) {
    if (hold !== null) {
      const what = hold.need === 'clampGrip' ? 'the clamp needs' : 'the follower needs'
      const [needs, has] = [atBench(hold.limit, hold.measured), atBench(hold.measured, hold.limit)]
      return say`no order can be held: at bend ${String(step.bend + 1)} ${what} ${needs} of straight, there are ${has}`
    }
    const open = motions.find(m => m.unknown !== null)
    if (open?.unknown)
      return say`no order is known to clear: at bend ${String(step.bend + 1)} ${open.unknown}`
    const touch = motions.find(m => m.depth !== null)
    if (touch?.part && touch.at !== null) {
      const way = touch.motion === 'armBack' ? ' as the arm swings back' : ''
      const part = `${touch.part.kind} ${touch.part.index + 1}`
      return say`no order clears: in the best one, at bend ${String(step.bend + 1)}, ${part} touches the ${touch.solid ?? 'bender'}${way}, ${atBench(touch.depth ?? 0)} deep`
    }
  }
  return say`no order clears`
}
