import { type Chain, chainsApart } from './chainTree.ts'
import type { Convex } from './convex.ts'
import { type ConvexOnSegment, leastOnSegment } from './convexOnSegment.ts'
import { convexDistance } from './convexPair.ts'
import { NearestHeap } from './nearestHeap.ts'
import { nearestOnSegments, type SegmentPair } from './segments.ts'
import {
  type FlatEnd,
  nearestParameter,
  overhangAt,
  pointOnShape,
  type Stretch,
  type Swept,
} from './swept.ts'
import { addScaled, distance, dot, length, scale, sub, type Vec3 } from './vec3.ts'
import { walkDown } from './walkDown.ts'

/** How near two outsides come. Lengths mm. */
export interface Gap {
  /**
   * Distance of `pointA` and `pointB`; negative when the outsides overlap, then minus the depth. Depth where round
   * sides meet: by how much the two radii together exceed the distance of the centre lines. At a cut end: how far
   * the end reaches into the other's side; end to end: the least shift, along either axis or across, that frees it.
   */
  readonly gap: number
  /** The true figure is no further than this from `gap`. */
  readonly errorBound: number
  readonly pointA: Vec3
  readonly pointB: Vec3
  /** Index of the shape each point lies on. */
  readonly shapeA: number
  readonly shapeB: number
}

/** The search ends once no stretch left can come nearer than the best by more than this. mm */
export const SEARCH_TOLERANCE = 0.002
/** Walking down pays once the slack is below this. mm */
const SETTLE_FROM = 1
/** Rounding of double precision over coordinates of some tens of metres, with room. mm */
export const ROUNDING = 1e-7
/** A cut end counts when the other lies past it by more than this sine; below, cut and rounded agree to 1e-12 mm. */
const LEAN = 1e-7

type Mode = 'round' | 'endOfA' | 'endOfB' | 'ends'
interface Candidate {
  readonly a: Stretch
  readonly b: Stretch
  readonly mode: Mode
  readonly u: number
  readonly v: number
  readonly gap: number
  readonly lower: number
  readonly upper: number
  /** Set for two cut ends: there the answer is final. */
  readonly points: readonly [Vec3, Vec3] | null
}

interface Found {
  gap: number
  pointA: Vec3
  pointB: Vec3
  shapeA: number
  shapeB: number
  overhang: number
}

/**
 * Least gap between two swept outsides, when it is below `limit`; else null.
 *
 * Branch and bound over pairs of stretches: segment to segment in closed form, arcs through chords with a slack
 * that quarters at each halving, until what is left cannot undercut the best by more than SEARCH_TOLERANCE.
 * Where the nearest place is a true end seen from past its cut, the flat-ended cylinder takes the rounded one's place.
 */
export const sweptGap = (A: Swept, B: Swept, limit: number): Gap | null => search(A, B, limit, false)

/**
 * Least gap of a swept outside to itself below `limit`, or null.
 *
 * Two places count when the curve turns by at least 180° in all from one to the other. No other places can touch:
 * where a curve comes nearest to itself the connecting line is square to it at both places (or leans out past an
 * end), and closing the curve by that line, total turn 360° at least (Fenchel), leaves 180° at least to the curve
 * between. Nearer along the curve there are only neighbours, which meet because they are one rod.
 */
export const selfGap = (A: Swept, limit: number): Gap | null => search(A, A, limit, true)

const HALF_TURN = Math.PI - 1e-9

function search(A: Swept, B: Swept, limit: number, self: boolean): Gap | null {
  const open = new NearestHeap<Candidate>()
  let upper = Infinity
  let best: Found | null = null
  // The candidate that `upper` is from while it is too coarse to be worth walking down.
  let coarse: Candidate | null = null
  let doneLower = Infinity
  const take = (candidate: Candidate) => {
    const found = settle(A, B, candidate, self)
    if (best && found.gap >= best.gap) return
    best = found
    if (found.gap > upper) return
    upper = found.gap
    coarse = null
  }
  const pair: SegmentPair = { u: 0, v: 0, distance: 0 }

  const look = (a: Stretch, b: Stretch) => {
    if (self && b.turnTo - a.turnFrom < HALF_TURN) return
    const x = a.mx - b.mx
    const y = a.my - b.my
    const z = a.mz - b.mz
    const most = Math.min(upper, limit) + A.radius + B.radius + a.reach + b.reach
    if (x * x + y * y + z * z >= most * most && most > 0) return
    nearestOnSegments(a, b, pair)
    const round = pair.distance - A.radius - B.radius
    const slack = a.slack + b.slack
    if (round - slack >= limit || round - slack >= upper) return
    const candidate = weigh(A, B, a, b, pair, round)
    if (candidate.lower >= limit || candidate.lower >= upper) return
    if (candidate.upper < upper) {
      if (slack > SETTLE_FROM && !self) {
        upper = candidate.upper
        coarse = candidate
      } else take(candidate)
    }
    open.push(candidate.lower, candidate)
  }

  const visit = (a: Chain<Stretch>, b: Chain<Stretch>, apart: number) => {
    if (apart >= Math.min(upper, limit) + A.radius + B.radius) return
    if (self && b.turnTo - a.turnFrom < HALF_TURN) return
    if (a.stretch && b.stretch) {
      if (a !== b) look(a.stretch, b.stretch)
      return
    }
    if (self && a === b) {
      const [p, q] = a.parts!
      visit(p, q, chainsApart(p, q))
      visit(p, p, 0)
      visit(q, q, 0)
      return
    }
    if (a.parts && (!b.parts || a.reach >= b.reach)) {
      const [p, q] = a.parts
      const toP = chainsApart(p, b)
      const toQ = chainsApart(q, b)
      if (toP <= toQ) visit(p, b, toP)
      visit(q, b, toQ)
      if (toP > toQ) visit(p, b, toP)
    } else {
      const [p, q] = b.parts!
      const toP = chainsApart(a, p)
      const toQ = chainsApart(a, q)
      if (toP <= toQ) visit(a, p, toP)
      visit(a, q, toQ)
      if (toP > toQ) visit(a, p, toP)
    }
  }
  visit(A.chain, B.chain, self ? 0 : chainsApart(A.chain, B.chain))

  while (open.size > 0 && open.least < upper - SEARCH_TOLERANCE && open.least < limit) {
    const { a, b, lower } = open.pop()!
    if (a.slack === 0 && b.slack === 0) {
      doneLower = Math.min(doneLower, lower)
    } else if (a.slack >= b.slack) {
      const [p, q] = a.split()
      look(p, b)
      look(q, b)
    } else {
      const [p, q] = b.split()
      look(a, p)
      look(a, q)
    }
  }
  if (coarse) {
    take(coarse)
    const next = open.pop()
    if (next) {
      take(next)
      doneLower = Math.min(doneLower, next.lower)
    }
  }
  const found = best as Found | null
  if (!found || !(found.gap < limit)) return null
  const certain = Math.min(open.least, doneLower, found.gap)
  const { gap, pointA, pointB, shapeA, shapeB, overhang } = found
  return { gap, errorBound: Math.max(gap - certain, overhang) + ROUNDING, pointA, pointB, shapeA, shapeB }
}

const leansOut = (end: FlatEnd | null, from: Vec3, to: Vec3): boolean => {
  if (!end) return false
  const way = sub(to, from)
  return dot(way, end.outward) > LEAN * length(way)
}

const segmentPoint = (s: Stretch, u: number): Vec3 => [
  s.ax + (s.bx - s.ax) * u,
  s.ay + (s.by - s.ay) * u,
  s.az + (s.bz - s.az) * u,
]

/** True when place `u` of `s` is a cut end and `other` lies past it. */
function pastCut(s: Stretch, u: number, from: Vec3, other: Vec3): boolean {
  return (u === 0 && leansOut(s.flatStart, from, other)) || (u === 1 && leansOut(s.flatEnd, from, other))
}

/** The pair's gap with its bounds, cut ends taken as they are. */
function weigh(A: Swept, B: Swept, a: Stretch, b: Stretch, pair: SegmentPair, round: number): Candidate {
  const slack = a.slack + b.slack
  const { u, v } = pair
  if (a.solid || b.solid) {
    const p = segmentPoint(a, u)
    const q = segmentPoint(b, v)
    if (pastCut(a, u, p, q) || pastCut(b, v, q, p)) {
      if (a.solid && b.solid) return weighEnds(a, b, a.solid, b.solid, u, v, round)
      const swap = a.solid === null
      const solid = (a.solid ?? b.solid)!
      const other = swap ? a : b
      const least = leastOnSegment(solid, other.a, other.b, SEARCH_TOLERANCE / 4)
      return weighSide(a, b, least, swap ? A.radius : B.radius, slack, swap)
    }
  }
  return { a, b, mode: 'round', u, v, gap: round, lower: round - slack, upper: round + slack, points: null }
}

function weighSide(
  a: Stretch,
  b: Stretch,
  least: ConvexOnSegment,
  radius: number,
  slack: number,
  swap: boolean,
): Candidate {
  return {
    a,
    b,
    mode: swap ? 'endOfB' : 'endOfA',
    u: swap ? least.t : 0,
    v: swap ? 0 : least.t,
    gap: least.value - radius,
    lower: least.lower - radius - slack,
    upper: least.value - radius + slack,
    points: null,
  }
}

function weighEnds(
  a: Stretch,
  b: Stretch,
  A: Convex,
  B: Convex,
  u: number,
  v: number,
  round: number,
): Candidate {
  const met = convexDistance(A, B, SEARCH_TOLERANCE / 4)
  const depth = met.overlap ? Math.min(-round, leastShift(A, B)) : 0
  const gap = met.overlap ? -Math.max(depth, 0) : met.upper
  const lower = met.overlap ? gap : met.lower
  return { a, b, mode: 'ends', u, v, gap, lower, upper: gap, points: [met.pointA, met.pointB] }
}

/** Least shift of A along a face normal or axis of either solid that frees the two, mm; both must be bounded. */
export function leastShift(A: Convex, B: Convex): number {
  let least = Infinity
  for (const n of [...A.directions, ...B.directions])
    for (const way of [n, scale(n, -1)]) {
      const a = A.support?.(way)
      const b = B.support?.(scale(way, -1))
      if (a && b) least = Math.min(least, dot(way, a) - dot(way, b))
    }
  return least
}

/** The candidate on the true curves, walked downhill to rounding where that is safe. */
function settle(A: Swept, B: Swept, c: Candidate, self: boolean): Found {
  const { a, b } = c
  const found = { shapeA: a.index, shapeB: b.index }
  if (c.points) return { ...found, gap: c.gap, pointA: c.points[0], pointB: c.points[1], overhang: 0 }
  if (c.mode !== 'round') {
    const swap = c.mode === 'endOfB'
    const [side, t, radius, swept] = swap ? [a, c.u, A.radius, A] : [b, c.v, B.radius, B]
    const solid = (swap ? b : a).solid!
    let range: readonly [number, number] = [side.from, side.to]
    if (self && side.slack > 0) {
      // Only the part of the arc that is half a turn away from the end's straight counts.
      const edge = swap ? b.turnFrom - HALF_TURN : a.turnFrom + HALF_TURN
      const at = Math.min(Math.max(edge - swept.turns[side.index]!, side.from), side.to)
      range = swap ? [side.from, at] : [at, side.to]
    }
    const place = walkDown(solid, side.shape, range, side.from + t * (side.to - side.from))
    const { value, gradient, point } = place
    const onEnd = addScaled(point, gradient, -value)
    const onSide = addScaled(point, gradient, -radius)
    return {
      ...found,
      gap: value - radius,
      pointA: swap ? onSide : onEnd,
      pointB: swap ? onEnd : onSide,
      overhang: overhangAt(swept, side.index, place.t),
    }
  }
  let s = a.from + c.u * (a.to - a.from)
  let t = b.from + c.v * (b.to - b.from)
  if (self) {
    // A pair of stretches may reach over the half turn only in part: go to where it counts.
    const short = () => Math.max(HALF_TURN - (turnAt(B, b, t) - turnAt(A, a, s)), 0)
    if (b.slack > 0) t = Math.min(t + short(), b.to)
    if (a.slack > 0) s = Math.max(s - short(), a.from)
  }
  let p = pointOnShape(a.shape, s)
  let q = pointOnShape(b.shape, t)
  let apart = distance(p, q)
  if (a.slack > 0 || b.slack > 0)
    for (let step = 0; step < 40; step++) {
      const s2 = nearestParameter(a.shape, q)
      const p2 = pointOnShape(a.shape, s2)
      const t2 = nearestParameter(b.shape, p2)
      const q2 = pointOnShape(b.shape, t2)
      const nearer = distance(p2, q2)
      if (!(nearer < apart - 1e-12)) break
      if (self && turnAt(B, b, t2) - turnAt(A, a, s2) < HALF_TURN) break
      if (pastCut(a, s2, p2, q2) || pastCut(b, t2, q2, p2)) break
      s = s2
      t = t2
      p = p2
      q = q2
      apart = nearer
    }
  const way = apart > 0 ? scale(sub(q, p), 1 / apart) : ([0, 0, 0] as const)
  return {
    ...found,
    gap: apart - A.radius - B.radius,
    pointA: addScaled(p, way, A.radius),
    pointB: addScaled(q, way, -B.radius),
    overhang: Math.max(overhangAt(A, a.index, s), overhangAt(B, b.index, t)),
  }
}

const turnAt = (swept: Swept, s: Stretch, t: number): number =>
  swept.turns[s.index]! + (s.shape.kind === 'arc' ? t : 0)
