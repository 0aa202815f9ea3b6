import type { Convex } from './convex.ts'
import { leastOnSegment } from './convexOnSegment.ts'
import { convexDistance } from './convexPair.ts'
import { NearestHeap } from './nearestHeap.ts'
import { around, cutPlaces, isSquare, isThick, leastOnThick, SETTLED } from './nearestSwept.ts'
import { discAt, fromEnd, mostThinned, type Stretch, type Swept, sweep, thinned } from './swept.ts'
import { depthGap, type Gap, ROUNDING, SEARCH_TOLERANCE, type Touch } from './sweptGap.ts'
import { touchingAt } from './touchingAt.ts'
import { addScaled, scale, sub, unit, type Vec3 } from './vec3.ts'
import { walkDown } from './walkDown.ts'

/** What a stretch's least value may be off by, mm. */
const TOLERANCE = 1e-9
/** Nearer to a true end than this a place is the end. mm */
const AT_END = 1e-6

interface Weighed {
  readonly stretch: Stretch
  /** Place on the stretch's shape, see `pointOnShape`. */
  readonly t: number
  readonly gap: number
  readonly lower: number
  readonly pointA: Vec3
  readonly pointB: Vec3
}

/**
 * Least gap between a swept outside (A) and a convex solid (B) below `limit`, or null. mm. Negative when they overlap:
 * minus the depth, as `Gap` has it. Where a round side reaches in, that is how deep the centre line lies in the solid
 * grown by the radius; under a plane, how far the lowest place is below it.
 */
export function sweptConvexGap(A: Swept, solid: Convex, limit: number): Gap | null {
  const round = nearest(A, solid, limit, false)
  if (!round) return null
  const from = fromEnd(A, round.best.stretch.index, round.best.t)
  if (from >= AT_END && from >= Math.min(-round.gap, A.radius)) return asGap(A, round)
  // Of flat ends an overlap is 0 until its depth is worked out.
  const flat = nearest(A, solid, solid.support ? Math.max(limit, Number.MIN_VALUE) : limit, true)
  if (!flat || flat.gap > 0 || !solid.support) return flat && flat.gap < limit ? asGap(A, flat) : null
  const inRod = rodFirst(A, solid)
  const inSolid = solidFirst(A, solid)
  const deepest = inRod.gap <= inSolid.gap ? inRod : inSolid
  const gap = Math.max(deepest.gap, round.gap)
  return gap < limit ? { ...deepest, gap } : null
}

interface Nearest extends Touch {
  readonly best: Weighed
}

const asGap = (A: Swept, { gap, lower, pointA, pointB, best }: Nearest): Gap => ({
  gap,
  errorBound: gap - lower + ROUNDING,
  pointA,
  pointB,
  shapeA: A.first + best.stretch.index,
  shapeB: 0,
})

/** @param cut ends as they are, flat, and an overlap with a bounded solid is 0; else ends are rounded. */
function nearest(A: Swept, solid: Convex, limit: number, cut: boolean): Nearest | null {
  const open = new NearestHeap<Weighed>()
  let best: Weighed | null = null
  let upper = Infinity
  let doneLower = Infinity
  const floor = cut && solid.support ? 0 : -Infinity

  const look = (stretch: Stretch) => {
    const quick = quickLower(stretch, solid) - A.radius
    if (quick >= limit || quick >= upper) return
    const weighed = weigh(stretch, solid, cut, Math.min(limit, upper))
    if (weighed.gap < upper) {
      upper = weighed.gap
      best = weighed
    }
    if (stretch.slack === 0) doneLower = Math.min(doneLower, weighed.lower)
    else if (weighed.lower < limit && weighed.lower < upper) open.push(weighed.lower, weighed)
  }
  for (const stretch of A.stretches) look(stretch)
  while (open.size > 0 && open.least < upper - SEARCH_TOLERANCE && open.least < limit && upper > floor)
    for (const half of open.pop()!.stretch.split()) look(half)

  const certain = Math.min(open.least, doneLower)
  const nearest = best as Weighed | null
  let found = nearest && sharpen(A, nearest, solid, cut)
  // What is left may be nearer by less than the tolerance: once for each shape.
  const seen = new Set<number>()
  for (let next = open.pop(); next && found && next.lower < found.gap; next = open.pop()) {
    if (seen.has(next.stretch.index)) continue
    seen.add(next.stretch.index)
    const other = sharpen(A, next, solid, cut)
    if (other.gap < found.gap) found = other
  }
  if (!found || !(found.gap < limit)) return null
  const gap = Math.max(found.gap, floor)
  const { pointA, pointB } = found
  const shapeA = A.first + found.stretch.index
  return { gap, lower: Math.min(certain, gap), pointA, pointB, shapeA, shapeB: 0, best: found }
}

/** The signed distance changes by no more than the way gone: from the middle, half the stretch and its slack. */
function quickLower(s: Stretch, solid: Convex): number {
  return solid.signedDistance([s.mx, s.my, s.mz]).value - s.reach
}

function weigh(s: Stretch, solid: Convex, cut: boolean, limit: number): Weighed {
  const least = leastOnSegment(solid, s.a, s.b, TOLERANCE)
  const t = s.from + least.t * (s.to - s.from)
  const isWithin = s.slack === 0 && least.t > 0 && least.t < 1
  const rounded = least.lower - s.slack - s.radius
  if (cut && s.nearCut && !isWithin && rounded < limit) return weighFlat(s, s.flat, solid, t)
  const at = s.pointAt(least.t)
  const { value, gradient } = s.slack === 0 ? least : solid.signedDistance(at)
  return {
    stretch: s,
    t,
    gap: value - s.radius,
    lower: rounded,
    pointA: addScaled(at, gradient, -s.radius),
    pointB: addScaled(at, gradient, -value),
  }
}

/**
 * A flat body that holds the true rod and nothing farther than `slack` from it, against the solid: their distance, 0 when they
 * overlap; over a plane the lowest place, signed.
 */
function weighFlat(s: Stretch, body: Convex, solid: Convex, t: number, slack = s.flatSlack): Weighed {
  const done = { stretch: s, t }
  if (!solid.support) {
    const normal = solid.directions[0]!
    const pointA = body.support!(scale(normal, -1))
    const { value } = solid.signedDistance(pointA)
    return { ...done, gap: value, lower: value, pointA, pointB: addScaled(pointA, normal, -value) }
  }
  const met = convexDistance(body, solid, TOLERANCE)
  return { ...done, gap: met.upper + slack, lower: met.lower, pointA: met.pointA, pointB: met.pointB }
}

/**
 * The answer on an arc walked down to rounding, so that its points lie on the true outsides. Near a cut end nothing but
 * sections counts: where the centre line comes nearest, and the end's own disc.
 */
function sharpen(A: Swept, found: Weighed, solid: Convex, cut: boolean): Weighed {
  const { stretch, t } = found
  const { shape, index } = stretch
  if (stretch.slack === 0) return found
  const place = walkDown(solid, shape, around(stretch), t)
  const round: Weighed = {
    ...found,
    t: place.t,
    gap: place.value - A.radius,
    pointA: addScaled(place.point, place.gradient, -A.radius),
    pointB: addScaled(place.point, place.gradient, -place.value),
  }
  if (!(cut && stretch.nearCut)) return round
  const disc = (at: number) => weighFlat(stretch, discAt(shape, at, A.radius), solid, at, 0)
  const first = isSquare(stretch, place.t, place.gradient) ? round : disc(place.t)
  const best = cutPlaces(A, index).map(disc).reduce(nearerOf, first)
  const isSettled = !isThick(stretch) || best.gap <= found.lower + SETTLED
  const thick = isSettled ? best : disc(leastOnThick(at => disc(at).gap, stretch))
  return { ...nearerOf(best, thick), lower: found.lower }
}

const nearerOf = (p: Weighed, q: Weighed): Weighed => (q.gap < p.gap ? q : p)

/** Minus the depth, the rod thinned to its centre line before the solid's own depth counts. */
function rodFirst(A: Swept, solid: Convex): Gap {
  const apart = (by: number) => nearest(thinned(A, by), solid, Infinity, true)!
  const most = mostThinned(A)
  const atMost = apart(most)
  if (atMost.gap > 0) {
    const { by, at, toldApart } = touchingAt(apart, most, atMost)
    return depthGap(at, toldApart, by, 0)
  }
  const { shapes, first } = thinned(A, most)
  const core = sweep(shapes, 0, { turnBefore: 0, first })
  const deep = nearest(core, solid, Infinity, false)!
  const { gap, pointA, pointB } = deep
  const out = unit(sub(pointB, pointA)) ?? [0, 0, 0]
  return { ...asGap(core, deep), gap: Math.min(gap, 0) - most, pointA: addScaled(pointA, out, -most) }
}

/** Minus the depth, the solid shrunk to its core before the rod is thinned. */
function solidFirst(A: Swept, solid: Convex): Gap {
  const { inset } = solid
  if (!inset)
    throw new Error('solidFirst: found a solid that cannot be shrunk, wanted box, cylinder or sphere')
  const core = inset.by(inset.most)
  const atCore = nearest(A, core, Infinity, true)!
  if (atCore.gap > 0) {
    const { by, at, toldApart } = touchingAt(
      t => nearest(A, inset.by(t), Infinity, true)!,
      inset.most,
      atCore,
    )
    return depthGap(at, toldApart, 0, by)
  }
  const most = mostThinned(A)
  const apart = (by: number) => nearest(thinned(A, by), core, Infinity, true)!
  const atBoth = apart(most)
  if (!(atBoth.gap > 0)) return depthGap(atBoth, atBoth, most, inset.most)
  const { by, at, toldApart } = touchingAt(apart, most, atBoth)
  return depthGap(at, toldApart, by, inset.most)
}
