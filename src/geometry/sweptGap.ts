import { type Manner, type NearestSwept, nearestSwept, SEARCH_TOLERANCE } from './nearestSwept.ts'
import { fromEnd, mostThinned, type Swept, thinned } from './swept.ts'
import { touchingAt } from './touchingAt.ts'
import { addScaled, sub, unit, type Vec3 } from './vec3.ts'

export { SEARCH_TOLERANCE }

/** How near two outsides come. Lengths mm. */
export interface Gap {
  /**
   * Distance of `pointA` and `pointB`; negative when the outsides overlap, then minus the depth: by how much the two
   * have to be made thinner, all round and at their ends, until they only touch. First one is thinned down to its core
   * (a tube to its centre line), then the other; the larger of both orders counts. Where round sides meet that is
   * by how much the two radii exceed the distance of the centre lines; where an end is pushed into a side or a face, how
   * far it reaches in. No shift by less than the depth frees the two.
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

/** Rounding of double precision over coordinates of some tens of metres, with room. mm */
export const ROUNDING = 1e-7

/** Least gap between two swept outsides, when it is below `limit`; else null. */
export const sweptGap = (A: Swept, B: Swept, limit: number): Gap | null => gapOf(A, B, limit, false)

/**
 * Least gap of a swept outside to itself below `limit`, or null; or of one part of a curve (A) to a later part (B), each
 * swept with its own thickness.
 *
 * Two places count when the curve turns by at least 180° in all from one to the other. No other places can touch:
 * where a curve comes nearest to itself the connecting line is square to it at both places (or leans out past an
 * end), and closing the curve by that line, total turn 360° at least (Fenchel), leaves 180° at least to the curve
 * between. Nearer along the curve there are only neighbours, which meet because they are one rod.
 */
export const selfGap = (A: Swept, limit: number, B: Swept = A): Gap | null => gapOf(A, B, limit, true)

function gapOf(A: Swept, B: Swept, limit: number, self: boolean): Gap | null {
  const round = nearestSwept(A, B, limit, { self, cut: false })
  if (!round || isUncut(A, B, round)) return round && asGap(A, B, round)
  const cut: Manner = { self, cut: true }
  // Of flat ends an overlap is 0 until its depth is worked out.
  const flat = nearestSwept(A, B, Math.max(limit, Number.MIN_VALUE), cut)
  if (!flat || flat.gap > 0) return flat && flat.gap < limit ? asGap(A, B, flat) : null
  const one = depth(A, B, cut)
  const other = turned(depth(B, A, cut, true))
  const deepest = one.gap <= other.gap ? one : other
  const gap = Math.max(deepest.gap, round.gap)
  return gap < limit ? { ...deepest, gap } : null
}

const asGap = (A: Swept, B: Swept, { gap, lower, pointA, pointB, a, b }: NearestSwept): Gap => ({
  gap,
  errorBound: gap - lower + ROUNDING,
  pointA,
  pointB,
  shapeA: A.first + a.shape,
  shapeB: B.first + b.shape,
})

const turned = (gap: Gap): Gap => ({
  ...gap,
  pointA: gap.pointB,
  pointB: gap.pointA,
  shapeA: gap.shapeB,
  shapeB: gap.shapeA,
})

/** Nearer to a true end than this a place is the end. mm */
const AT_END = 1e-6

/** Whether no cut end has a part in what rounded ends gave. */
function isUncut(A: Swept, B: Swept, { gap, a, b }: NearestSwept): boolean {
  const [fromA, fromB] = [fromEnd(A, a.shape, a.t), fromEnd(B, b.shape, b.t)]
  if (fromA < AT_END || fromB < AT_END) return false
  if (gap >= 0) return true
  const lasts = (first: number, radius: number, second: number) =>
    first >= Math.min(-gap, radius) && second >= -gap - radius
  return lasts(fromA, A.radius, fromB) || lasts(fromB, B.radius, fromA)
}

/**
 * Minus the depth of two that overlap: B is thinned first, then A.
 *
 * @param isTurned A is the later part of one curve with itself.
 */
function depth(A: Swept, B: Swept, manner: Manner, isTurned = false): Gap {
  const apart = (a: Swept, b: Swept): Touch => {
    const found = isTurned ? nearestSwept(b, a, Infinity, manner) : nearestSwept(a, b, Infinity, manner)
    // Of one curve with itself nothing that counts may be left.
    if (!found) return NOTHING
    const [atA, atB] = isTurned ? [found.b, found.a] : [found.a, found.b]
    const [pointA, pointB] = isTurned ? [found.pointB, found.pointA] : [found.pointA, found.pointB]
    const { gap, lower } = found
    return { gap, lower, pointA, pointB, shapeA: a.first + atA.shape, shapeB: b.first + atB.shape }
  }
  const mostB = mostThinned(B)
  const core = thinned(B, mostB)
  const atCore = apart(A, core)
  if (atCore.gap > 0) {
    const { by, at, toldApart } = touchingAt(t => apart(A, thinned(B, t)), mostB, atCore)
    return depthGap(at, toldApart, 0, by)
  }
  const mostA = mostThinned(A)
  const atBoth = apart(thinned(A, mostA), core)
  if (!(atBoth.gap > 0)) return depthGap(atBoth, atBoth, mostA, mostB)
  const { by, at, toldApart } = touchingAt(t => apart(thinned(A, t), core), mostA, atBoth)
  return depthGap(at, toldApart, by, mostB)
}

/** Two of which one or both are thinned. */
export interface Touch {
  readonly gap: number
  readonly lower: number
  readonly pointA: Vec3
  readonly pointB: Vec3
  readonly shapeA: number
  readonly shapeB: number
}

const NOTHING: Touch = {
  gap: Infinity,
  lower: Infinity,
  pointA: [0, 0, 0],
  pointB: [0, 0, 0],
  shapeA: 0,
  shapeB: 0,
}

/** What touches once A is thinner by `a` and B by `b`, told of the two as they are. */
export function depthGap(at: Touch, toldApart: Touch, a: number, b: number): Gap {
  const way = unit(sub(toldApart.pointB, toldApart.pointA)) ?? [0, 0, 1]
  return {
    gap: -(a + b),
    errorBound: at.gap - at.lower + ROUNDING,
    pointA: addScaled(at.pointA, way, a),
    pointB: addScaled(at.pointA, way, -b),
    shapeA: at.shapeA,
    shapeB: at.shapeB,
  }
}
