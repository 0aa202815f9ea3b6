import { angleText, isOutside, rangeText } from '../document/angleRange.ts'
import type { Bender, Springback, Tooling } from '../document/types.ts'
import type { HalfTurnWay, Lead, OrderedBend } from '../solve/bendOrder.ts'
import { springbackAt } from '../solve/making.ts'
import type { SolvedRoute, SolvedRun } from '../solve/types.ts'
import { BenchError } from './benchError.ts'

/** Turns this near to half a turn can go either way; so near to none they are none at a bench. Degrees. */
export const SAME_TURN_DEG = 0.05
/** The rounding of a route's figures: a turn of less is none. Degrees. */
const NO_TURN_DEG = 1e-8

/** True for a turn (degrees, null for none before the first bend) that can be made either way. */
export const isHalfTurn = (turn: number | null): boolean =>
  turn !== null && Math.abs(180 - Math.abs(turn)) < SAME_TURN_DEG

export interface LayoutStep {
  readonly bend: number
  readonly lead: Lead
  /** As in the order; only where the turn is a half turn that goes counter-clockwise. */
  readonly way?: HalfTurnWay
  /** True when the tube has to be turned end for end (flat, about the upright) before this bend. */
  readonly turnedAround: boolean
  /** Start-of-bend tangent point on the straight stock, mm from the leading end of this step. */
  readonly start: number
  /** Pencil mark on the straight stock, mm from the same end. */
  readonly mark: number
  /** Along the tube from the mark made for the bend before, mm, positive towards the tail; null on the first and after turning end for end. */
  readonly markFromPrevious: number | null
  /**
   * Turn of the tube about its own axis before this bend, degrees, clockwise positive seen from the tail towards
   * the bender, as {@link turnBetween} gives it: a half turn has its way. Null on the first. After turning end for end it counts from where
   * the tube lies once swung round flat.
   */
  readonly turn: number | null
  /** Wanted (settled) bend angle, degrees. */
  readonly angle: number
  /** Dial reading, degrees: wanted + springback; null when the material's springback is not known. */
  readonly dial: number | null
  /** Settled centre-line radius, mm. */
  readonly radius: number
  /** Length of stock that goes into the bend (arc less stretch), mm. */
  readonly stockUsed: number
}

export interface Layout {
  readonly hand: Bender['hand']
  readonly kind: Bender['kind']
  /** The tube comes out before the arm goes back, and so is put in anew for every bend. */
  readonly tubeOutFirst: boolean
  readonly cutLength: number
  /** Spare at the end that trails at the first step, cut off after bending, mm. */
  readonly trim: number
  /** Sum of the stretch taken off the stock, mm. */
  readonly stretch: number
  readonly steps: readonly LayoutStep[]
  /** Plain sentences: springback unknown or used outside the trials' range. */
  readonly warnings: readonly string[]
}

export interface LayoutOptions {
  readonly hand: Bender['hand']
  readonly kind: Bender['kind']
  readonly order: readonly OrderedBend[]
  /** The bender's own; false when left out. */
  readonly tubeOutFirst?: boolean
}

/** Every bend with the same end leading, in the order in which it comes to the die. */
export function orderFrom(lead: Lead, bends: number): OrderedBend[] {
  const all = Array.from({ length: bends }, (_, bend): OrderedBend => ({ bend, lead }))
  return lead === 'A' ? all : all.reverse()
}

/** True for the same bends, each with the same end leading and its half turns the same way, one after the other. */
export const sameOrder = (a: readonly OrderedBend[], b: readonly OrderedBend[]): boolean =>
  sameSequence(a, b) && a.every((o, i) => (o.way ?? 'clockwise') === (b[i]?.way ?? 'clockwise'))

/** True for the same bends, each with the same end leading, one after the other, whichever way half turns go. */
export const sameSequence = (a: readonly OrderedBend[], b: readonly OrderedBend[]): boolean =>
  a.length === b.length && a.every((o, i) => o.bend === b[i]?.bend && o.lead === b[i]?.lead)

/** The order that a layout was made for, half turns with their ways. */
export const orderOf = ({ steps }: Pick<Layout, 'steps'>): OrderedBend[] =>
  steps.map(({ bend, lead, way }) => ({ bend, lead, ...(way === undefined ? {} : { way }) }))

/** Degrees in (−180, 180]. */
export function wrapTurn(deg: number): number {
  const t = deg - 360 * Math.round(deg / 360)
  return t <= -180 ? t + 360 : t
}

/** Lengths along the tube that the bench works with, A order, mm; angles degrees. */
export interface Stock {
  /** Settled radius of each bend. */
  readonly radii: readonly number[]
  /** Settled arc length of each bend. */
  readonly arcs: readonly number[]
  readonly stretch: readonly number[]
  /** Straights between tangent points; the first and last include what goes into the fittings. */
  readonly straights: readonly number[]
  /** Plane of each bend: sum of the rotations up to it, degrees, clockwise positive from A to B. */
  readonly planes: readonly number[]
  readonly trim: number
}

/**
 * The lengths of the run as it was solved, which is as its bender makes it.
 * @throws BenchError when the run has no route.
 */
export function stockOf(run: SolvedRun): Stock {
  const { bends, straights: between } = routeOf(run)
  const straights = [...between]
  straights[0] = straights[0]! + run.insertionA
  straights[straights.length - 1] = straights[straights.length - 1]! + run.insertionB
  const planes: number[] = []
  for (const b of bends) planes.push((planes.at(-1) ?? 0) + (b.rotation ?? 0))
  return {
    radii: bends.map(b => b.clr),
    arcs: bends.map(b => b.arcLength),
    stretch: run.stretch,
    straights,
    planes,
    trim: run.trim,
  }
}

/** Stock that goes into each bend, A to B, mm. */
const usedIn = ({ arcs, stretch }: Stock): number[] => arcs.map((arc, k) => arc - stretch[k]!)

const sum = (values: readonly number[]) => values.reduce((a, v) => a + v, 0)

/**
 * Where a bend starts on the straight stock, mm from the end that leads.
 * @param trimAt the end that trails at the first step, where the trim is.
 */
export function startOnStock(stock: Stock, bend: number, lead: Lead, trimAt: Lead): number {
  const used = usedIn(stock)
  const ahead =
    lead === 'A'
      ? sum(stock.straights.slice(0, bend + 1)) + sum(used.slice(0, bend))
      : sum(stock.straights.slice(bend + 1)) + sum(used.slice(bend + 1))
  return ahead + (lead === trimAt ? stock.trim : 0)
}

/** The stock that is cut, mm. */
export const stockLength = (stock: Stock): number => sum(stock.straights) + sum(usedIn(stock)) + stock.trim

/** @throws BenchError when the run's route could not be solved. */
export function routeOf(run: SolvedRun): SolvedRoute {
  if (run.route === null)
    throw new BenchError(
      `run ${run.tag}`,
      run.problem?.message ?? 'no route',
      'a route that can be solved before it is laid out',
    )
  return run.route
}

/**
 * Cut length, marks, turns and dial readings for the bends in the order given.
 * Start of bend: S(k) = everything ahead of it on the straight stock; the mark lies the tooling's reference
 * offset further towards the tail. The turn from one bend to the next is the difference of their planes
 * with its sign kept whichever end leads; swinging the tube end for end adds half a turn.
 * @throws BenchError when a bend is missing, doubled or unknown in `order`, or the route is not solved.
 */
export function layOut(
  run: SolvedRun,
  tooling: Tooling,
  springback: Springback | null,
  options: LayoutOptions,
): Layout {
  const route = routeOf(run)
  const n = route.bends.length
  const { order } = options
  const listed = order.map(o => o.bend)
  if (order.length !== n || new Set(listed).size !== n || listed.some(b => !(b in route.bends)))
    throw new BenchError(
      `run ${run.tag}: order of bends`,
      `[${listed.join(', ')}]`,
      `each of 0 … ${n - 1} once`,
    )
  const stock = stockOf(run)
  const used = usedIn(stock)
  const first: Lead = order[0]?.lead ?? 'A'
  const warnings: string[] = []
  if (springback === null && n > 0) warnings.push('springback is not known: make a trial bend first')

  const steps = order.map((ordered, i): LayoutStep => {
    const { bend, lead } = ordered
    const before = order[i - 1]
    const turn = before === undefined ? null : turnBetween(stock.planes, before, ordered)
    const turnedAround = before !== undefined && before.lead !== lead
    const start = startOnStock(stock, bend, lead, first === 'A' ? 'B' : 'A')
    const { angle } = route.bends[bend]!
    if (springback?.range && isOutside(angle, springback.range))
      warnings.push(
        `bend ${bend + 1}: ${angleText(angle, springback.range)} is outside the ${rangeText(springback.range, angle)} that the trial bends covered`,
      )
    return {
      bend,
      lead,
      ...(turn !== null && turn < 0 && isHalfTurn(turn) ? { way: 'counter-clockwise' } : {}),
      turnedAround,
      start,
      mark: start + tooling.referenceOffset,
      markFromPrevious: null,
      turn,
      angle,
      dial: springback === null ? null : angle + springbackAt(springback, angle),
      radius: stock.radii[bend]!,
      stockUsed: used[bend]!,
    }
  })
  return {
    hand: options.hand,
    kind: options.kind,
    tubeOutFirst: options.tubeOutFirst ?? false,
    cutLength: run.cutLength!,
    trim: stock.trim,
    stretch: sum(stock.stretch),
    steps: steps.map((s, i) => ({
      ...s,
      markFromPrevious: i === 0 || s.turnedAround ? null : s.mark - steps[i - 1]!.mark,
    })),
    warnings,
  }
}

/**
 * Turn between two bends made one after the other, degrees, clockwise positive from the tail to the bender: in
 * (−180, 180], and within SAME_TURN_DEG of ±180, on either side of it, for a half turn, which goes the way of `to`.
 */
export function turnBetween(planes: readonly number[], from: OrderedBend, to: OrderedBend): number {
  const along = planes[to.bend]! - planes[from.bend]!
  const turn =
    from.lead === to.lead
      ? wrapTurn(to.lead === 'A' ? along : 0 - along)
      : wrapTurn(to.lead === 'B' ? 180 - along : 180 + along)
  if (Math.abs(turn) < NO_TURN_DEG) return 0
  if (!isHalfTurn(turn)) return turn
  return to.way === 'counter-clockwise' ? (turn > 0 ? turn - 360 : turn) : turn > 0 ? turn : turn + 360
}
