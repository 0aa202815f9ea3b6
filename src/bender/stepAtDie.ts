import { DEG, negate, turnDirection, type Vec3 } from '../geometry/vec3.ts'
import type { Lead } from '../solve/bendOrder.ts'
import type { ArcPiece } from '../solve/types.ts'
import { type Layout, type LayoutStep, SAME_TURN_DEG, type Stock } from './layOut.ts'
import { type OnPart, onPartAt } from './onPart.ts'
import { putInAnew, slideOf, type TubeAtDie, tubeAtDie } from './tubeAtDie.ts'

/** A leg of the run as it stands at the die, just before a bend. */
export interface LegAtDie {
  /** Counted from 1 at end A: leg 1 runs from end A to bend 1. */
  readonly leg: number
  /**
   * Where it points, away from the die, once the tube is turned: degrees clockwise from straight up, seen from the
   * tail looking towards the bender, 0 ≤ clock < 360. Null where the leg lies along the bender's axis.
   */
  readonly clock: number | null
  /** The same before the turn, as the bend before (or swinging the tube end for end) left it. */
  readonly clockBefore: number | null
  /** True when it lies beyond the die, on the side of the end that leads; false on the operator's side. */
  readonly ahead: boolean
}

/** A leg that sticks out where the held straight ends: what an operator turns by. */
export interface Pointer extends LegAtDie {
  /** The made bend between it and the die, counted from 1 at end A. */
  readonly bend: number
  readonly clock: number
  readonly clockBefore: number
}

/** All that is known of one step at the bench. Words, figures and pictures are made from this and nothing else. */
export interface StepAtDie {
  readonly step: LayoutStep
  /** Place in the order of work, from 0. */
  readonly index: number
  /** Bend number, counted from 1 at end A. */
  readonly bend: number
  /** The end that the mark is measured from on the straight stock; it goes through the clamp first. */
  readonly markEnd: Lead
  /** True when the tube is turned end for end before this bend. */
  readonly turnedEndForEnd: boolean
  /** False on the first bend, and where the turn is too small for any bench. */
  readonly turns: boolean
  /** True when another end goes towards the clamp than before, or none has yet. */
  readonly clampEndChanges: boolean
  /** True when the tube is put in from above, turned already; false when it slides on from the bend before. */
  readonly putIn: boolean
  /**
   * When the tube comes out after the bend before: once the arm is back, or before it goes back where the bender lets the
   * tube out first. Null where it stays in, and on the first bend.
   */
  readonly takenOut: 'armBack' | 'armStanding' | null
  /** How far the tube slides to its mark, mm, positive towards the clamp; null where it is put in from above. */
  readonly slide: number | null
  /** How the mark is found on the part as it is now; null when it does not lie on straight tube. */
  readonly onPart: OnPart | null
  /** Every leg of the run, from end A. */
  readonly legs: readonly LegAtDie[]
  /** The legs beyond the nearest made bend on either side of the die: ahead first; none before the first bend. */
  readonly pointers: readonly Pointer[]
  /** The tube slid and turned, ready for this bend. */
  readonly before: TubeAtDie
  /** The tube bent and sprung back, still in the die. */
  readonly after: TubeAtDie
}

/** Less than this across the axis is rounding: such a leg lies along it. Of a unit vector. */
const ALONG = 1e-6

/** Degrees clockwise from straight up as seen looking along +x with +z up, 0 ≤ clock < 360; null for ±x. */
export function clockOf(direction: Vec3): number | null {
  if (Math.hypot(direction[1], direction[2]) < ALONG) return null
  // Looking along +x the right hand is −y.
  const clock = Math.atan2(0 - direction[1], direction[2]) / DEG
  return clock < 0 ? (clock + 360) % 360 : clock
}

/**
 * Every step of a layout as it happens at the die, for any order of bends, either end leading, both hands, both kinds.
 *
 * @param stock the lengths that the layout was made from.
 * @param od outside diameter of the tube, mm.
 */
export const stepsAtDie = (layout: Layout, stock: Stock, od: number): StepAtDie[] =>
  layout.steps.map((_, i) => stepAtDie(layout, stock, i, od))

/** @throws RangeError when the layout has no step `i`. */
export function stepAtDie(layout: Layout, stock: Stock, i: number, od: number): StepAtDie {
  const before = tubeAtDie(layout, stock, i, 'turn', 1)
  const step = layout.steps[i]!
  const now = reachOf(before, step.lead)
  const was = reachOf(tubeAtDie(layout, stock, i, 'turn', 0), step.lead)
  const { made } = before
  const legs = stock.straights.map((_, k): LegAtDie => {
    const bend = nearestBend(k, step.bend, made)
    return {
      leg: k + 1,
      clock: bend === null ? null : clockOf(now(bend, k)),
      clockBefore: bend === null ? null : clockOf(was(bend, k)),
      ahead: (step.lead === 'A') === k <= step.bend,
    }
  })
  const previous = layout.steps[i - 1]
  const putIn = putInAnew(layout, i)
  return {
    step,
    index: i,
    bend: step.bend + 1,
    markEnd: step.lead,
    turnedEndForEnd: step.turnedAround,
    turns: step.turn !== null && Math.abs(step.turn) >= SAME_TURN_DEG,
    clampEndChanges: previous === undefined || previous.lead !== step.lead,
    putIn,
    takenOut: putIn ? (layout.tubeOutFirst ? 'armStanding' : 'armBack') : null,
    slide: putInAnew(layout, i) ? null : slideOf(layout, i),
    onPart: onPartAt(layout, stock, i, od),
    legs,
    pointers: pointersOf(legs, step, made),
    before,
    after: tubeAtDie(layout, stock, i, 'takeOut', 0),
  }
}

/** The made bend that a leg (0-based) comes after on the way out from the die; null when it lies on the held straight. */
function nearestBend(leg: number, inHand: number, made: ReadonlySet<number>): number | null {
  const [first, way, past] = leg <= inHand ? [leg, 1, inHand] : [leg - 1, -1, inHand]
  for (let k = first; k !== past; k += way) if (made.has(k)) return k
  return null
}

/** Gives the direction away from the die of what comes after a made bend, on the way out to a leg (0-based). */
function reachOf(tube: TubeAtDie, lead: Lead): (bend: number, leg: number) => Vec3 {
  const arcs = new Map<number, ArcPiece>()
  for (const p of tube.pieces) if (p.kind === 'arc') arcs.set(p.bend, p)
  return (bend, leg) => {
    const arc = arcs.get(bend)!
    // The pieces run from the end that leads to the one that trails.
    const towardsLead = (lead === 'A') === leg <= bend
    return towardsLead ? negate(arc.direction) : turnDirection(arc.direction, arc.normal, arc.angleRad)
  }
}

function pointersOf(legs: readonly LegAtDie[], step: LayoutStep, made: ReadonlySet<number>): Pointer[] {
  const towardsA = [...made].filter(k => k < step.bend)
  const towardsB = [...made].filter(k => k > step.bend)
  // The leg beyond a bend: towards A it has the bend's number, towards B one more.
  const a = towardsA.length === 0 ? [] : [{ bend: Math.max(...towardsA), leg: legs[Math.max(...towardsA)]! }]
  const b =
    towardsB.length === 0 ? [] : [{ bend: Math.min(...towardsB), leg: legs[Math.min(...towardsB) + 1]! }]
  return [...(step.lead === 'A' ? [...a, ...b] : [...b, ...a])].flatMap(({ bend, leg }) =>
    leg.clock === null || leg.clockBefore === null
      ? []
      : [{ ...leg, clock: leg.clock, clockBefore: leg.clockBefore, bend: bend + 1 }],
  )
}
