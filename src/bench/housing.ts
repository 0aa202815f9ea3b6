import type { Bender, Springback, Tooling } from '../document/types.ts'
import { DEG, turnAbout, turnDirection, type Vec3 } from '../geometry/vec3.ts'
import { springbackAt } from '../solve/making.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type BenderSolids, benderSolids } from './benderSolids.ts'
import { type ConvexSolid, solidReach } from './convex.ts'
import { type Lead, type OrderedBend, routeOf, type Stock, stockOf, turnBetween } from './layOut.ts'
import type { Motion } from './motion.ts'
import type { SweepJob, TubePart } from './sweep.ts'
import { frontOf, moved, type TubeSide, tailOf } from './tubeState.ts'

/**
 * What happens at the bender for one bend. The tube slides to its mark from where the bend before left the die;
 * when bends already made lie in the way, the tube was turned end for end or comes out after every bend, it is put
 * in from above instead, turned to its plane in the air. After the bend the arm goes back to its start while the
 * tube lies in the die, then the tube is lifted out; a bender that lets it out first has no such swing.
 */
export type MotionName = 'putIn' | 'slide' | 'turn' | 'bend' | 'armBack' | 'takeOut'

/** What never counts as contact, by name: it is held on purpose. */
export const LEFT_OUT = 'the stretch held by the clamp and the stretch wrapped on the die'

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
  /** The tube is taken out with the arm where the bend left it, and the arm goes back empty. */
  readonly tubeOutFirst: boolean
}

/**
 * @param trimAt the end that trails at the first step.
 * @throws BenchError when the run has no route or a solid of the bender is no solid.
 */
export function benchSetup(
  run: SolvedRun,
  bender: Bender,
  tooling: Tooling,
  springback: Springback | null,
  options: { trimAt: Lead },
): BenchSetup {
  const wanted = routeOf(run).bends.map(b => b.angle)
  return {
    stock: stockOf(run),
    od: tooling.od,
    wanted,
    commanded: wanted.map(w => w + springbackAt(springback, w)),
    tooling,
    hand: bender.hand,
    kind: bender.kind,
    solids: benderSolids(bender),
    trimAt: options.trimAt,
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
}

/** A motion split into what lies ahead of the die and behind it; each part of the tube has its own jobs. */
export interface MotionPlan {
  readonly motion: MotionName
  readonly unit: 'mm' | 'deg'
  /** The motion's range as `at` reads it. */
  readonly from: number
  readonly to: number
  readonly sides: readonly {
    readonly name: 'front' | 'tail'
    readonly side: TubeSide
    readonly jobs: (part: TubePart) => readonly SweepJob[]
  }[]
}

const X: Vec3 = [1, 0, 0]
const UP: Vec3 = [0, 0, 1]

/**
 * True when the tube can slide on from the bend before: same end leading, that bend the nearest one ahead. After
 * compression bending the tail lies wrapped aside, so the tube always comes out and goes in anew; so it does on a
 * bender that lets the tube out before the arm goes back.
 */
export function slidesOn(setup: BenchSetup, state: BenchState): boolean {
  const { before, bend, lead, made } = state
  if (before === null) return true
  if (setup.kind === 'compression' || setup.tubeOutFirst) return false
  if (before.lead !== lead) return false
  const step = lead === 'A' ? -1 : 1
  if ((before.bend - bend) * step <= 0) return false
  let k = bend + step
  while (k !== before.bend && !made(k)) k += step
  return k === before.bend
}

/** The tube's two sides with this bend's tangent point at the origin, before the bend. */
export function sidesAt(setup: BenchSetup, state: BenchState): { front: TubeSide; tail: TubeSide } {
  const used = usedIn(setup, state.bend)
  const common = {
    stock: setup.stock,
    angles: setup.wanted,
    made: state.made,
    bend: state.bend,
    lead: state.lead,
    hand: setup.hand,
    trimAt: setup.trimAt,
  }
  return {
    front: frontOf({ ...common, leaveOut: setup.tooling.clampGrip }),
    tail: tailOf({ ...common, leaveOut: used }),
  }
}

/** Stock that goes into a bend, mm. */
export const usedIn = (setup: BenchSetup, bend: number): number =>
  setup.stock.arcs[bend]! - setup.stock.stretch[bend]!

/** Degrees turned before this bend; 0 on the first. */
export const turnFor = (setup: BenchSetup, state: BenchState): number =>
  state.before === null ? 0 : turnBetween(setup.stock.planes, state.before, state)

/** Slide and turn, or put in from above; the arm stands at 0. */
export function settingUp(
  setup: BenchSetup,
  state: BenchState,
  { front, tail }: { front: TubeSide; tail: TubeSide },
): MotionPlan[] {
  const solids = [...setup.solids.housing, ...setup.solids.arm]
  if (!slidesOn(setup, state)) return [lift('putIn', setup, { front, tail })]

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
  const slideReads = { plus: way, per: 1 }
  const sliding = (side: TubeSide): TubeSide => ({ ...side, parts: roll(side.parts) })
  const plans: MotionPlan[] = [
    plan('slide', 'mm', [0, way], { front: sliding(front), tail: sliding(tail) }, part => [
      { parts: [part], solids, motion: slide, reads: slideReads },
    ]),
  ]
  if (turn !== 0) {
    const turning: Motion = {
      kind: 'turn',
      origin: [0, 0, 0],
      axis: X,
      from: Math.min(back, 0),
      to: Math.max(back, 0),
    }
    plans.push(
      plan('turn', 'deg', [0, turn], { front, tail }, part => [
        { parts: [part], solids, motion: turning, reads: { plus: turn, per: 1 / DEG } },
      ]),
    )
  }
  return plans
}

/**
 * The bend through the whole commanded angle and back by what springs back; the arm turns with what it drives. A drawn
 * front springs back the way it came; a wrapped tail does not, for no stock goes back with it.
 */
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
  const swing: Motion = { kind: 'turn', origin, axis: [0, 0, sense], from: 0, to }
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
  const fed = (p: Vec3): Vec3 => [p[0] + used, p[1], p[2]]
  const byAngle = { plus: 0, per: 1 / DEG }
  const byFeed = { plus: 0, per: commanded / used }
  const job = (part: TubePart, solids: readonly ConvexSolid[], motion: Motion): SweepJob => ({
    parts: [part],
    solids,
    motion,
    reads: motion === feeding ? byFeed : byAngle,
  })
  const draw = setup.kind === 'rotaryDraw'
  return {
    motion: 'bend',
    unit: 'deg',
    from: 0,
    to: commanded,
    sides: [
      {
        name: 'front',
        side: front,
        jobs: part =>
          draw
            ? [job(part, housing, swing), job(part, arm, still)]
            : [job(part, housing, still), job(part, arm, swing)],
      },
      {
        name: 'tail',
        side: tail,
        jobs: part =>
          draw
            ? [job(part, housing, feeding), job(part, arm, wrapping)]
            : [
                job(part, housing, wrapping),
                job(part, arm, feeding),
                ...moved([part], fed, d => d).map(p => job(p, housing, springing)),
              ],
      },
    ],
  }
}

/**
 * Straight down into the die or up out of it, until every part is above every solid.
 * @param armAt where the arm stands, degrees about +z from its start.
 */
export function lift(
  motion: 'putIn' | 'takeOut',
  setup: BenchSetup,
  sides: { front: TubeSide; tail: TubeSide },
  armAt = 0,
): MotionPlan {
  const { housing, arm } = setup.solids
  const solids = [...housing, ...arm]
  const top = solids.reduce((z, s) => Math.max(z, solidReach(s, UP)), Number.NEGATIVE_INFINITY)
  // Once a part is above every solid it only gets further away.
  const heightFor = (part: TubePart) => Math.max(0, top - lowest(part) + 2 * setup.od)
  const all = [...sides.front.parts, ...sides.tail.parts].filter(() => solids.length > 0)
  const to = all.reduce((h, part) => Math.max(h, heightFor(part)), 0)
  const axis = dieAxis(setup)
  /** The part as the arm sees it: a turn about the die's axis does not change a way along it. */
  const fromArm = (part: TubePart): readonly TubePart[] =>
    moved(
      [part],
      p => turnAbout(p, axis, UP, -armAt * DEG),
      d => turnDirection(d, UP, -armAt * DEG),
    )
  return plan(motion, 'mm', motion === 'putIn' ? [to, 0] : [0, to], sides, part => {
    const up: Motion = { kind: 'shift', along: UP, from: 0, to: solids.length > 0 ? heightFor(part) : 0 }
    const reads = { plus: 0, per: 1 }
    return armAt === 0
      ? [{ parts: [part], solids, motion: up, reads }]
      : [
          { parts: [part], solids: housing, motion: up, reads },
          { parts: fromArm(part), solids: arm, motion: up, reads },
        ]
  })
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

function plan(
  motion: MotionName,
  unit: 'mm' | 'deg',
  [from, to]: readonly [number, number],
  sides: { front: TubeSide; tail: TubeSide },
  jobs: (part: TubePart) => readonly SweepJob[],
): MotionPlan {
  return {
    motion,
    unit,
    from,
    to,
    sides: [
      { name: 'front', side: sides.front, jobs },
      { name: 'tail', side: sides.tail, jobs },
    ],
  }
}

/** Why the tube cannot be held for this bend, or null: clamp grip ahead, follower behind a bend on the tail. */
export function holdProblem(
  setup: BenchSetup,
  { front, tail }: { front: TubeSide; tail: TubeSide },
  bend: number,
): { need: 'clampGrip' | 'followerLength'; measured: number; limit: number } | null {
  const { clampGrip, followerLength } = setup.tooling
  const slack = 1e-9
  if (front.firstStraight < clampGrip - slack)
    return { need: 'clampGrip', measured: front.firstStraight, limit: clampGrip }
  const behind = tail.firstStraight - usedIn(setup, bend)
  if (tail.reachOfBend.length > 0 && behind < followerLength - slack)
    return { need: 'followerLength', measured: behind, limit: followerLength }
  return null
}
