import type { Convex } from './convex.ts'
import { type ConvexOnSegment, leastOnSegment } from './convexOnSegment.ts'
import { convexDistance } from './convexPair.ts'
import { NearestHeap } from './nearestHeap.ts'
import { overhangAt, type Stretch, type Swept } from './swept.ts'
import { type Gap, leastShift, ROUNDING, SEARCH_TOLERANCE } from './sweptGap.ts'
import { addScaled, dot, scale, type Vec3 } from './vec3.ts'
import { walkDown } from './walkDown.ts'

interface Weighed {
  readonly stretch: Stretch
  /** Place on the stretch's shape, see `pointOnShape`. */
  readonly t: number
  readonly gap: number
  readonly lower: number
  readonly pointA: Vec3
  readonly pointB: Vec3
  readonly overhang: number
}

const LEAN = 1e-7

/**
 * Least gap between a swept outside (A) and a convex solid (B) below `limit`, or null. mm.
 *
 * Negative when they overlap: minus how deep the centre line lies in the solid grown by the radius. Where a cut end
 * is what reaches in, the least shift that frees it along its own axis or square to a face counts when it is less.
 */
export function sweptConvexGap(A: Swept, solid: Convex, limit: number): Gap | null {
  const open = new NearestHeap<Stretch>()
  let best: Weighed | null = null
  let upper = Infinity
  let doneLower = Infinity

  const look = (stretch: Stretch) => {
    const quick = quickLower(stretch, solid) - A.radius
    if (quick >= limit || quick >= upper) return
    const weighed = weigh(A, stretch, solid)
    if (weighed.gap < upper) {
      upper = weighed.gap
      best = weighed
    }
    if (stretch.slack === 0) doneLower = Math.min(doneLower, weighed.lower)
    else if (weighed.lower < limit && weighed.lower < upper) open.push(weighed.lower, stretch)
  }
  for (const stretch of A.stretches) look(stretch)
  while (open.size > 0 && open.least < upper - SEARCH_TOLERANCE && open.least < limit)
    for (const half of open.pop()!.split()) look(half)

  const nearest = best as Weighed | null
  const found = nearest && sharpen(A, nearest, solid)
  if (!found || !(found.gap < limit)) return null
  const certain = Math.min(open.least, doneLower, found.gap)
  return {
    gap: found.gap,
    errorBound: Math.max(found.gap - certain, found.overhang) + ROUNDING,
    pointA: found.pointA,
    pointB: found.pointB,
    shapeA: found.stretch.index,
    shapeB: 0,
  }
}

/** The signed distance changes by no more than the way gone: from the middle, half the stretch and its slack. */
function quickLower(s: Stretch, solid: Convex): number {
  return solid.signedDistance([s.mx, s.my, s.mz]).value - s.reach
}

function weigh(A: Swept, s: Stretch, solid: Convex): Weighed {
  const least = leastOnSegment(solid, s.a, s.b, SEARCH_TOLERANCE / 4)
  if (s.solid && pastCut(s, least)) return weighCutEnd(s, s.solid, solid, least.value - A.radius)
  const at = s.pointAt(least.t)
  const t = s.from + least.t * (s.to - s.from)
  const { value, gradient } = s.slack === 0 ? least : solid.signedDistance(at)
  return {
    stretch: s,
    t,
    gap: value - A.radius,
    lower: least.lower - s.slack - A.radius,
    pointA: addScaled(at, gradient, -A.radius),
    pointB: addScaled(at, gradient, -value),
    overhang: overhangAt(A, s.index, t),
  }
}

/** The answer on an arc walked down to rounding, so that its points lie on the true outsides. */
function sharpen(A: Swept, found: Weighed, solid: Convex): Weighed {
  const { stretch, t } = found
  if (stretch.slack === 0) return found
  const place = walkDown(solid, stretch.shape, [stretch.from, stretch.to], t)
  return {
    ...found,
    t: place.t,
    gap: place.value - A.radius,
    pointA: addScaled(place.point, place.gradient, -A.radius),
    pointB: addScaled(place.point, place.gradient, -place.value),
    overhang: overhangAt(A, stretch.index, place.t),
  }
}

function pastCut(s: Stretch, { t, gradient }: ConvexOnSegment): boolean {
  const end = t === 0 ? s.flatStart : t === 1 ? s.flatEnd : null
  return end !== null && -dot(gradient, end.outward) > LEAN
}

/** The end's own flat cylinder against the solid; `round` is what a rounded end would give. */
function weighCutEnd(s: Stretch, end: Convex, solid: Convex, round: number): Weighed {
  const done = { stretch: s, t: 0, overhang: 0 }
  const reach = end.support
  if (!solid.support && reach) {
    const normal = solid.directions[0]!
    const pointA = reach(scale(normal, -1))
    const { value } = solid.signedDistance(pointA)
    return { ...done, gap: value, lower: value, pointA, pointB: addScaled(pointA, normal, -value) }
  }
  const met = convexDistance(end, solid, SEARCH_TOLERANCE / 4)
  const gap = met.overlap ? -Math.max(Math.min(-round, leastShift(end, solid)), 0) : met.upper
  const lower = met.overlap ? gap : met.lower
  return { ...done, gap, lower, pointA: met.pointA, pointB: met.pointB }
}
