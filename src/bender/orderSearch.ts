import { inMm, type Sentence, say } from '../document/sentence.ts'
import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import { atBench, holdSentence } from './benchFindings.ts'
import { bestFirst } from './bestFirst.ts'
import { clearOrder, type StepClearance, type Ways } from './clearStep.ts'
import { type Handling, handlingOf, handlingOfStep, handlingRank } from './handling.ts'
import type { BenchSetup } from './housing.ts'
import { orderFrom } from './layOut.ts'
import { orderValue, type StepValue, type StepValues, stepValue, UNHELD, type Worth } from './stepValue.ts'
import { SWEEP_TOLERANCE_MM } from './sweep.ts'

/** Up to this many bends every order is searched; past it only the practical ones. */
export const EXACT_BENDS = 12
/** Clearances of orders this near are equal: half of what is printed. mm. */
const EQUAL_MM = 0.05

/** An order of work with what it comes near to. Its half turns have their ways. */
export interface JudgedOrder {
  readonly order: readonly OrderedBend[]
  /** Certified least clearance over all steps and motions, mm; null when the bender has no solids. */
  readonly atLeast: number | null
  readonly turnarounds: number
  readonly handling: Handling
  readonly steps: readonly StepClearance[]
  /** True when every motion is known to be clear and every step can be held. */
  readonly clears: boolean
}

export interface OrderSearchResult {
  /**
   * The order proposed: of those that clear by the margin, the one with least handling ({@link handlingRank}), end A
   * leading before end B; where none does, the clearest.
   */
  readonly best: JudgedOrder
  /** The clearest order, of those the one with least handling; `best` itself where nothing is clearer. Null: not asked. */
  readonly clearest: JudgedOrder | null
  readonly aFirst: JudgedOrder
  readonly bFirst: JudgedOrder
  /** mm asked of the order proposed. */
  readonly margin: number
  /** True when `best` clears by the margin. */
  readonly reached: boolean
  /** True: every order was looked at. False: only A-first, B-first and both-ends-to-the-middle were. */
  readonly exact: boolean
  /** Why nothing clears, in mm; null when the best order does. */
  readonly blocked: string | null
  /** The same for any unit. */
  readonly blockedBy: Sentence | null
  /** Sides of the tube whose clearance had to be found out. */
  readonly examined: number
}

export interface OrderSearchOptions {
  /** Called now and then with the share done in [0, 1]; return false to stop. */
  readonly onProgress?: (done: number) => boolean | undefined
  readonly signal?: { readonly aborted: boolean }
  /** False: the clearest order is looked for only where none clears by the margin. */
  readonly clearest?: boolean
  /** All bends from end A as they were judged before. */
  readonly aFirst?: JudgedOrder
}

/** Thrown when the caller stopped the search. */
export class OrderSearchCancelled extends Error {
  override readonly name = 'OrderSearchCancelled'
}

/**
 * Clearance of every step of a given order. Used for the user's own order as well.
 * @param ways of half turns whose way the order does not say: 'clearer' is the way that clears by more, clockwise when
 * both are equal.
 */
export function judgeOrder(
  setup: BenchSetup,
  order: readonly OrderedBend[],
  ways: Ways = 'clockwise',
): JudgedOrder {
  const trimmed = { ...setup, trimAt: trailing(order[0]?.lead ?? 'A') }
  const steps = clearOrder(trimmed, order, ways)
  const figures = steps.flatMap(s => (s.worst?.atLeast == null ? [] : [s.worst.atLeast]))
  const handling = handlingOf(setup, order)
  return {
    order: steps.map(s => s.step),
    atLeast: figures.length === 0 ? null : Math.min(...figures),
    turnarounds: handling.turnarounds,
    handling,
    steps,
    clears: steps.every(s => s.hold === null && s.motions.every(m => m.depth === null && m.unknown === null)),
  }
}

/** All bends from one end, half turns the clearer way. */
export const judgeLead = (setup: BenchSetup, lead: Lead): JudgedOrder =>
  judgeOrder(setup, orderFrom(lead, setup.wanted.length), 'clearer')

const trailing = (lead: Lead): Lead => (lead === 'A' ? 'B' : 'A')

/** True when it clears, by the margin as it is printed. */
export const reaches = (judged: JudgedOrder, margin: number): boolean =>
  judged.clears && (judged.atLeast ?? Number.POSITIVE_INFINITY) >= margin - EQUAL_MM

/**
 * The order of bends, each from either end, to be proposed, and the clearest. What a bend's motions come near depends
 * only on which bends are made and which was the last, so the search runs over sets of bends (2^n·n states per leading
 * end), up to EXACT_BENDS; past that over A-first, B-first and every split that works from both ends to the middle.
 * @throws OrderSearchCancelled when `signal` is aborted or `onProgress` returns false.
 */
export function searchOrder(setup: BenchSetup, options: OrderSearchOptions = {}): OrderSearchResult {
  const count = setup.wanted.length
  const stop = () => options.signal?.aborted === true
  const tell = (done: number) => {
    if (stop() || options.onProgress?.(done) === false) throw new OrderSearchCancelled('order search stopped')
  }
  tell(0)
  const aFirst = options.aFirst ?? judgeLead(setup, 'A')
  const bFirst = judgeLead(setup, 'B')
  const exact = count <= EXACT_BENDS
  const { margin } = setup
  let examined = 0
  const looking: Looking = { setup, exact, tell, counted: more => (examined += more) }

  const plain = [aFirst, bFirst].find(o => reaches(o, margin))
  // Without solids, too, what cannot be held in one order may be in another; but none is clearer than another.
  const handled = plain || count < 2 ? null : leastHandling(looking, margin)
  const least = plain ?? handled?.found ?? null
  const measures = count > 1 && hasSolids(setup)
  const clearer = measures && (least === null || options.clearest !== false)
  const known = [least, aFirst, bFirst].flatMap(o => o ?? [])
  const clearest = clearer
    ? theClearest(looking, known, least === null ? handled?.values : undefined)
    : known.reduce((a, b) => (better(b, a) ? b : a))
  const best = least ?? clearest
  tell(1)
  const blockedBy = whyBlocked(best)
  return {
    best,
    clearest: clearer || !measures ? clearest : null,
    aFirst,
    bFirst,
    margin,
    reached: least !== null,
    exact,
    blocked: blockedBy && inMm(blockedBy),
    blockedBy,
    examined,
  }
}

/** Of two plain orders the one to be proposed: one that clears by the margin, else the clearer; `a` where both are equal. */
export const ofTwo = (a: JudgedOrder, b: JudgedOrder, margin: number): JudgedOrder =>
  [a, b].find(o => reaches(o, margin)) ?? (better(b, a) ? b : a)

interface Looking {
  readonly setup: BenchSetup
  readonly exact: boolean
  readonly tell: (done: number) => void
  readonly counted: (more: number) => void
}

const hasSolids = (setup: BenchSetup) => setup.solids.housing.length + setup.solids.arm.length > 0

/** One figure for an order: its clearance, or UNHELD when a step cannot be held or is not known. */
const worth = (o: JudgedOrder): number =>
  o.steps.some(s => s.hold !== null || s.motions.some(m => m.unknown !== null))
    ? UNHELD
    : (o.atLeast ?? Number.POSITIVE_INFINITY)

function better(a: JudgedOrder, b: JudgedOrder): boolean {
  const [x, y] = [worth(a), worth(b)]
  if (x === y || Math.abs(x - y) <= EQUAL_MM) return handlingRank(a.handling) < handlingRank(b.handling)
  return x > y
}

const LEADS = ['A', 'B'] as const
/** The trim sits at the end that trails first: with any, every first end has figures of its own. */
type ValuesPerLead = Readonly<Record<Lead, StepValues>>
function valuesPerLead(setup: BenchSetup, worth: Worth, before?: ValuesPerLead): ValuesPerLead {
  const make = (lead: Lead) => stepValue({ ...setup, trimAt: trailing(lead) }, worth, before?.[lead])
  const A = make('A')
  return { A, B: setup.stock.trim === 0 ? A : make('B') }
}
const examinedIn = ({ A, B }: ValuesPerLead): number => A.examined() + (A === B ? 0 : B.examined())

/** The order with least handling of those that clear by the margin in every step, or null. */
function leastHandling(
  { setup, exact, tell, counted }: Looking,
  margin: number,
): { readonly found: JudgedOrder | null; readonly values: ValuesPerLead } {
  const bar = margin - EQUAL_MM
  const values = valuesPerLead(setup, { floor: bar, ceiling: bar + SWEEP_TOLERANCE_MM })
  const clear = (value: number) => value > bar
  let least: { rank: number; order: readonly OrderedBend[] } | null = null
  const take = (order: readonly OrderedBend[]) => {
    const rank = handlingRank(handlingOf(setup, order))
    if (least === null || rank < least.rank) least = { rank, order }
  }
  if (exact)
    for (const first of LEADS) {
      const most: number = (least as { rank: number } | null)?.rank ?? Number.POSITIVE_INFINITY
      const found = bestFirst(setup, first, values[first], done => tell(0.25 * done), {
        start: 0,
        next: (so, state, step) => {
          const score = so - handlingRank(handlingOfStep(setup, state.before, state, state.made))
          return -score < most && clear(step()) ? score : Number.NEGATIVE_INFINITY
        },
        rank: score => score,
        worthwhile: score => score > Number.NEGATIVE_INFINITY,
      })
      if (found !== null) take(found.order)
    }
  else
    splits(setup.wanted.length).forEach((order, i, all) => {
      tell((0.5 * i) / all.length)
      if (clear(orderValue(order, values[order[0]!.lead].of, bar))) take(order)
    })
  counted(examinedIn(values))
  if (least === null) return { found: null, values }
  const judged = judgeOrder(setup, (least as { order: readonly OrderedBend[] }).order, 'clearer')
  return { found: reaches(judged, margin) ? judged : null, values }
}

/** From both ends to the middle, beginning at either. */
function splits(count: number): OrderedBend[][] {
  return Array.from({ length: Math.max(0, count - 1) }, (_, i) => i + 1).flatMap(m => {
    const fromA = orderFrom('A', count).slice(0, m)
    const fromB = orderFrom('B', count).slice(0, count - m)
    return [
      [...fromA, ...fromB],
      [...fromB, ...fromA],
    ]
  })
}

/**
 * The clearest order, of those the one with least handling; one of `known` where none is clearer.
 * @param none the figures by which no order clears by the margin: then none is looked for beyond that.
 */
function theClearest(
  { setup, exact, tell, counted }: Looking,
  known: readonly JudgedOrder[],
  none?: ValuesPerLead,
): JudgedOrder {
  const best = known.reduce((a, b) => (better(b, a) ? b : a))
  const count = setup.wanted.length
  const toBeat = worth(best)
  // Every order begins with some bend: none is clearer than the clearest beginning.
  const unbounded = valuesPerLead(setup, { floor: toBeat, ceiling: Number.POSITIVE_INFINITY })
  const beginning = Math.max(
    ...LEADS.flatMap(lead =>
      orderFrom(lead, count).map(o => unbounded[lead].of({ ...o, before: null, made: () => false })),
    ),
  )
  counted(examinedIn(unbounded))
  const most = Math.min(beginning, none?.A.ceiling ?? Number.POSITIVE_INFINITY)
  if (most <= toBeat + EQUAL_MM) return best
  const values = valuesPerLead(setup, { floor: toBeat, ceiling: most }, none)
  const share = (done: number) => tell(0.5 + 0.5 * done)
  const found = exact
    ? LEADS.map(first => overSets(setup, first, toBeat, values[first], share))
    : [clearestSplit(setup, lead => values[lead].of, toBeat, share)]
  counted(examinedIn(values))
  return found.reduce((so, order) => {
    if (order === null) return so
    const judged = judgeOrder(setup, order, 'clearer')
    return better(judged, so) ? judged : so
  }, best)
}

function clearestSplit(
  setup: BenchSetup,
  of: (lead: Lead) => StepValue,
  toBeat: number,
  tell: (done: number) => void,
): readonly OrderedBend[] | null {
  let most = toBeat
  let found: readonly OrderedBend[] | null = null
  splits(setup.wanted.length).forEach((order, i, all) => {
    tell(i / all.length)
    // Every split swings the tube end for end once: the best figure decides.
    const figure = orderValue(order, of(order[0]!.lead), most)
    if (figure <= most) return
    most = figure
    found = order
  })
  return found
}

/**
 * Clearest order over sets, or null when none beats `toBeat` by more than EQUAL_MM. A state is the set of bends made,
 * the last of them and its leading end. States are gone on with best first, so what cannot be part of the answer
 * is never examined: once for the largest least clearance (in steps of EQUAL_MM), once more, among steps that
 * reach it, for the least handling.
 */
function overSets(
  setup: BenchSetup,
  first: Lead,
  toBeat: number,
  values: StepValues,
  tell: (done: number) => void,
): OrderedBend[] | null {
  const bar = toBeat + EQUAL_MM
  const widest = bestFirst(setup, first, values, done => tell(0.5 * done), {
    start: Number.POSITIVE_INFINITY,
    next: (so, _, step) => Math.min(so, step()),
    // Everything within one step of EQUAL_MM ranks the same, or ever so slight gains would be chased first.
    rank: least => Math.floor(least / EQUAL_MM),
    worthwhile: least => least > bar,
  })
  if (widest === null) return null
  const good = Math.floor(widest.score / EQUAL_MM) * EQUAL_MM
  const fewest = bestFirst(setup, first, values, done => tell(0.5 + 0.5 * done), {
    start: 0,
    next: (so, state, step) =>
      step() >= good
        ? so - handlingRank(handlingOfStep(setup, state.before, state, state.made))
        : Number.NEGATIVE_INFINITY,
    rank: score => score,
    worthwhile: score => score > Number.NEGATIVE_INFINITY,
  })
  return (fewest ?? widest).order
}

function whyBlocked(best: JudgedOrder): Sentence | null {
  if (best.clears) return null
  for (const { step, hold, motions } of best.steps) {
    if (hold !== null) return say`no order can be set up: in the best one ${holdSentence(step, hold)}`
    const open = motions.find(m => m.unknown !== null)
    if (open?.unknown)
      return say`no order is known to clear: at bend ${String(step.bend + 1)} ${open.unknown}`
    const touch = motions.find(m => m.depth !== null)
    if (touch?.part && touch.at !== null) {
      const way = touch.motion === 'armBack' ? ' as the arm returns' : ''
      const part = `${touch.part.kind} ${touch.part.index + 1}`
      return say`no order clears: in the best one, at bend ${String(step.bend + 1)}, ${part} touches the ${touch.solid ?? 'bender'}${way}, ${atBench(touch.depth ?? 0)} deep`
    }
  }
  return say`no order clears`
}
