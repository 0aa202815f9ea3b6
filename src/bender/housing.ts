import type { Bender, Springback, Tooling } from '../document/types.ts'
import { DEG, distance, lerp, turnAbout, turnDirection, type Vec3 } from '../geometry/vec3.ts'
import type { HalfTurnWay, Lead, OrderedBend } from '../solve/bendOrder.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { springbackAt } from '../solve/making.ts'
import type { SolvedRun } from '../solve/types.ts'
import { BenchError } from './benchError.ts'
import { type BenderSolids, benderSolids } from './benderSolids.ts'
import { type ConvexSolid, solidReach } from './convex.ts'
import { KINDS } from './kinds/benderKinds.ts'
import { routeOf, type Stock, startOnStock, stockLength, stockOf, turnBetween } from './layOut.ts'
import type { Motion } from './motion.ts'
import type { MotionPlan, SideJob } from './motionPlan.ts'
import { slidesOn } from './slidesOn.ts'
import type { SweepJob } from './sweep.ts'
import type { TubePart } from './tubePart.ts'
import { cutAt, frontOf, moved, type TubeSide, tailOf } from './tubeState.ts'

/** How far the tube is to stay from the bender where the bender's record does not say, mm: common practice, no source. */
export const MARGIN_MM = 10

/** An arm that has gone once round stands where it began: no bend turns further. Degrees. */
const FURTHEST_DEG = 360

/** A dial reading that no arm comes to: what is swept for it would mean nothing, however long it takes. */
export class TurnTooFar extends BenchError {
  constructor(bend: number, dial: number) {
    super(
      `bend ${bend + 1}`,
      `a dial reading of ${dial.toFixed(1)}° with its springback`,
      `more than 0° and at most ${FURTHEST_DEG}°`,
    )
  }
}

/** A run on a bender, with everything that the motions need; lengths mm, angles degrees. */
export interface BenchSetup {
  readonly stock: Stock
  readonly od: number
  readonly wanted: readonly number[]
  /** Wanted + springback. */
  readonly commanded: readonly number[]
  readonly tooling: Tooling
  readonly hand: Bender['hand']
  readonly kind: Bender['kind']
  readonly solids: BenderSolids
  readonly trimAt: Lead
  /** How far the tube is to stay from the bender in an order that is proposed, mm. */
  readonly margin: number
  /** The tube is taken out with the arm where the bend left it, and the arm goes back empty. */
  readonly tubeOutFirst: boolean
}

/**
 * @param options the end that trails at the first step; a margin other than the bender's own.
 * @throws BenchError when the run has no route or a solid of the bender is no solid.
 * @throws TurnTooFar when a bend and its springback together are no turn that an arm makes.
 */
export function benchSetup(
  run: SolvedRun,
  bender: Bender,
  tooling: Tooling,
  springback: Springback | null,
  options: { trimAt: Lead; margin?: number | undefined },
): BenchSetup {
  const wanted = routeOf(run).bends.map(b => b.angle)
  const commanded = wanted.map(w => w + springbackAt(springback, w))
  const beyond = commanded.findIndex(c => !(c > 0 && c <= FURTHEST_DEG))
  if (beyond >= 0) throw new TurnTooFar(beyond, commanded[beyond]!)
  return {
    stock: stockOf(run),
    od: tooling.od,
    wanted,
    commanded,
    tooling,
    hand: bender.hand,
    kind: bender.kind,
    solids: benderSolids(bender),
    trimAt: options.trimAt,
    margin: options.margin ?? bender.margin ?? MARGIN_MM,
    tubeOutFirst: bender.tubeOutFirst ?? false,
  }
}

/** One bend in a certain state of the tube. */
export interface BenchState {
  readonly made: (bend: number) => boolean
  readonly bend: number
  readonly lead: Lead
  /** The bend made just before, or null at the first. */
  readonly before: OrderedBend | null
  /** The way of the half turn before it, as in the order. */
  readonly way?: HalfTurnWay
}

/** The tube on both sides of the tangent point, each from there outwards. */
export interface Sides {
  readonly front: readonly TubePart[]
  readonly tail: readonly TubePart[]
}

const X: Vec3 = [1, 0, 0]
const UP: Vec3 = [0, 0, 1]

/** The tube's two sides with this bend's tangent point at the origin, before the bend. */
export function sidesAt(setup: BenchSetup, state: BenchState): { front: TubeSide; tail: TubeSide } {
  const common = {
    stock: setup.stock,
    angles: setup.wanted,
    made: state.made,
    bend: state.bend,
    lead: state.lead,
    hand: setup.hand,
    trimAt: setup.trimAt,
  }
  return { front: frontOf(common), tail: tailOf(common) }
}

/** Stock that goes into a bend, mm. */
export const usedIn = (setup: BenchSetup, bend: number): number =>
  setup.stock.arcs[bend]! - setup.stock.stretch[bend]!

/** Degrees turned before this bend; 0 on the first. */
export const turnFor = (setup: BenchSetup, state: BenchState): number =>
  state.before === null ? 0 : turnBetween(setup.stock.planes, state.before, state)

/**
 * Slide and turn, or put in from above; the arm stands at 0 and the clamp is open, so that nothing is held.
 * Where the turn before the bend is a half turn it goes the way of the state.
 */
export function settingUp(
  setup: BenchSetup,
  state: BenchState,
  { front, tail }: { front: TubeSide; tail: TubeSide },
): MotionPlan[] {
  const sides: Sides = { front: front.parts, tail: tail.parts }
  if (!slidesOn(setup, state)) return [lift('putIn', setup, sides)]

  const solids = [...setup.solids.housing, ...setup.solids.arm]
  const turn = turnFor(setup, state)
  const back = -turn * DEG
  const roll = (parts: readonly TubePart[]) =>
    moved(
      parts,
      p => turnAbout(p, [0, 0, 0], X, back),
      d => turnDirection(d, X, back),
    )
  // An overrun straight leaves nothing to slide.
  const way = Math.max(0, front.firstStraight)
  const slide: Motion = { kind: 'shift', along: X, from: -way, to: 0 }
  const plans: MotionPlan[] = [
    {
      motion: 'slide',
      unit: 'mm',
      from: 0,
      to: way,
      jobs: bothSides({ front: roll(sides.front), tail: roll(sides.tail) }, solids, slide, {
        plus: way,
        per: 1,
      }),
    },
  ]
  if (turn !== 0) {
    const turning: Motion = {
      kind: 'turn',
      origin: [0, 0, 0],
      axis: X,
      from: Math.min(back, 0),
      to: Math.max(back, 0),
    }
    plans.push({
      motion: 'turn',
      unit: 'deg',
      from: 0,
      to: turn,
      jobs: bothSides(sides, solids, turning, { plus: turn, per: 1 / DEG }),
    })
  }
  return plans
}

const bothSides = (
  { front, tail }: Sides,
  solids: readonly ConvexSolid[],
  motion: Motion,
  reads: SweepJob['reads'],
): SideJob[] => [
  { side: 'front', outward: true, parts: front, solids, motion, reads },
  { side: 'tail', outward: true, parts: tail, solids, motion, reads },
]

/** The stock that is not yet wrapped goes past a solid in this many pieces where the tail ends soon after it. */
const STOCK_PIECES = 4

/** The bend through the whole commanded angle and back by what springs back; the arm turns with what it takes along. */
export function bending(
  setup: BenchSetup,
  state: BenchState,
  { front, tail }: { front: TubeSide; tail: TubeSide },
): MotionPlan {
  const { housing, arm } = setup.solids
  const sense = setup.hand === 'left' ? 1 : -1
  const origin = dieAxis(setup)
  const commanded = setup.commanded[state.bend]!
  const to = commanded * DEG
  const used = usedIn(setup, state.bend)
  const feed = used / to
  const ahead = cutAt(front.parts, setup.tooling.clampGrip)
  const behind = cutAt(tail.parts, used)

  const swing: Motion = { kind: 'turn', origin, axis: [0, 0, sense], from: 0, to }
  const away: Motion = { kind: 'turn', origin, axis: [0, 0, -sense], from: 0, to }
  const feeding: Motion = { kind: 'shift', along: X, from: 0, to: used }
  const wrapping: Motion = { kind: 'drawn', origin, sense: sense === 1 ? -1 : 1, feed, from: 0, to }
  const still: Motion = { kind: 'still', from: 0, to: 0 }
  const springing: Motion = {
    kind: 'turn',
    origin,
    axis: [0, 0, -sense],
    from: Math.min(setup.wanted[state.bend]!, commanded) * DEG,
    to,
  }
  const byAngle = { plus: 0, per: 1 / DEG }
  const byFeed = { plus: 0, per: commanded / used }
  const job = (
    side: SideJob['side'],
    parts: readonly TubePart[],
    solids: readonly ConvexSolid[],
    motion: Motion,
    outward = true,
  ): SideJob => ({ side, outward, parts, solids, motion, reads: motion === feeding ? byFeed : byAngle })

  // The bend on the die as it is at the end: before, it is the first of it. Seen by what the tail stands still for, the
  // housing on rotary draw and the arm on compression, it lies ahead of the tangent point.
  const wrapped = bendAtDie(setup, state.bend, X, setup.tooling.clr, commanded)
  const passing = (solids: readonly ConvexSolid[]) =>
    unwrapped(behind, used).map(([part, until]) =>
      job('tail', [part], solids, { ...away, to: Math.min(to, until / feed) }, false),
    )
  const fed = (p: Vec3): Vec3 => [p[0] + used, p[1], p[2]]
  return {
    motion: 'bend',
    unit: 'deg',
    from: 0,
    to: commanded,
    jobs: KINDS[setup.kind].bendingJobs({
      housing,
      arm,
      front: front.parts,
      aheadOfClamp: ahead.far,
      stock: behind.near,
      behind: behind.far,
      behindFed: moved(behind.far, fed, d => d),
      wrapped,
      motions: { swing, feed: feeding, wrap: wrapping, springBack: springing, still },
      job,
      passing,
    }),
  }
}

/**
 * The straight place behind the tangent point through which the stock of a bend comes, in pieces, each with the length
 * fed by which the tube has left it: never, as long as there is tail behind to follow.
 */
function unwrapped(
  { near, far }: ReturnType<typeof cutAt>,
  used: number,
): readonly (readonly [TubePart, number])[] {
  const stock = near[0]
  if (stock?.kind !== 'line') return []
  const next = far[0]
  const follows = next?.kind === 'line' ? distance(next.from, next.to) : 0
  const always = Math.min(1, follows / used)
  const cuts = [
    0,
    ...Array.from({ length: STOCK_PIECES }, (_, i) => always + ((1 - always) * i) / STOCK_PIECES),
    1,
  ]
  return cuts.slice(1).flatMap((end, i): (readonly [TubePart, number])[] => {
    const begin = cuts[i]!
    if (!(end > begin)) return []
    const part = { ...stock, from: lerp(stock.from, stock.to, begin), to: lerp(stock.from, stock.to, end) }
    return [[part, i === 0 ? used : used + follows - begin * used]]
  })
}

/** A bend that begins at the tangent point with a heading along ±x, round the die's axis; mm and degrees. */
export function bendAtDie(
  { hand }: BenchSetup,
  bend: number,
  heading: Vec3,
  radius: number,
  angle: number,
): TubePart[] {
  const sense = hand === 'left' ? 1 : -1
  return [
    {
      of: { kind: 'bend', index: bend },
      kind: 'arc',
      centre: [0, sense * radius, 0],
      out: [0, -sense, 0],
      heading,
      radius,
      angleRad: angle * DEG,
    },
  ]
}

/**
 * Straight down into the die or up out of it, until every part is above every solid; nothing is held.
 * @param armAt where the arm stands, degrees about +z from its start.
 */
export function lift(
  motion: 'putIn' | 'takeOut',
  setup: BenchSetup,
  sides: Sides & { readonly bend?: readonly TubePart[] },
  armAt = 0,
): MotionPlan {
  const { housing, arm } = setup.solids
  const solids = [...housing, ...arm]
  const top = solids.reduce((z, s) => Math.max(z, solidReach(s, UP)), Number.NEGATIVE_INFINITY)
  // Once a part is above every solid it only gets further away.
  const { bend = [] } = sides
  const all = [...sides.front, ...sides.tail, ...bend].filter(() => solids.length > 0)
  const to = all.reduce((h, part) => Math.max(h, top - lowest(part) + 2 * setup.od), 0)
  const up: Motion = { kind: 'shift', along: UP, from: 0, to }
  const reads = { plus: 0, per: 1 }
  const axis = dieAxis(setup)
  /** The tube as the arm sees it: a turn about the die's axis does not change a way along it. */
  const fromArm = (parts: readonly TubePart[]): readonly TubePart[] =>
    moved(
      parts,
      p => turnAbout(p, axis, UP, -armAt * DEG),
      d => turnDirection(d, UP, -armAt * DEG),
    )
  return {
    motion,
    unit: 'mm',
    from: motion === 'putIn' ? to : 0,
    to: motion === 'putIn' ? 0 : to,
    jobs:
      armAt === 0
        ? [
            ...bothSides(sides, solids, up, reads),
            { side: 'tail', outward: false, parts: bend, solids, motion: up, reads },
          ]
        : [
            ...bothSides(sides, housing, up, reads),
            ...bothSides({ front: fromArm(sides.front), tail: fromArm(sides.tail) }, arm, up, reads),
            { side: 'tail', outward: false, parts: bend, solids: housing, motion: up, reads },
            { side: 'tail', outward: false, parts: fromArm(bend), solids: arm, motion: up, reads },
          ],
  }
}

/** A point of the die's axis, about which the arm turns, mm. */
export const dieAxis = ({ hand, tooling }: BenchSetup): Vec3 => [
  0,
  hand === 'left' ? tooling.clr : -tooling.clr,
  0,
]

const lowest = (part: TubePart): number =>
  part.kind === 'line'
    ? Math.min(part.from[2], part.to[2])
    : part.centre[2] - part.radius * Math.hypot(part.out[2], part.heading[2])

/** Why a bend cannot be set up; lengths mm. */
export interface HoldProblem {
  /** 'mark': it would lie off the stock; measured from the leading end, with the end of the stock that it lies past as the limit. */
  readonly need: 'clampGrip' | 'followerLength' | 'mark'
  readonly measured: number
  readonly limit: number
}

/**
 * Why the tube cannot be set up for this bend, or null: too little for the clamp ahead of it, or for the follower behind
 * it (up to a bend on the tail or to the end of the stock, trim included), or its mark off the stock.
 */
export function holdProblem(
  setup: BenchSetup,
  { front, tail }: { front: TubeSide; tail: TubeSide },
  { bend, lead }: Pick<BenchState, 'bend' | 'lead'>,
): HoldProblem | null {
  const { clampGrip, followerLength, referenceOffset } = setup.tooling
  const slack = LENGTH_SLACK_MM
  if (front.firstStraight < clampGrip - slack)
    return { need: 'clampGrip', measured: front.firstStraight, limit: clampGrip }
  const behind = tail.firstStraight - usedIn(setup, bend)
  if (behind < followerLength - slack)
    return { need: 'followerLength', measured: behind, limit: followerLength }
  const mark = startOnStock(setup.stock, bend, lead, setup.trimAt) + referenceOffset
  if (mark < -slack) return { need: 'mark', measured: mark, limit: 0 }
  const whole = stockLength(setup.stock)
  return mark > whole + slack ? { need: 'mark', measured: mark, limit: whole } : null
}
