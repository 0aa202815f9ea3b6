import type { Convex } from './convex.ts'
import { convexDistance } from './convexPair.ts'
import { NearestHeap } from './nearestHeap.ts'
import { triangleSolid } from './triangleSolid.ts'
import { add, dot, scale, sub, type Vec3 } from './vec3.ts'

export type Triangle = readonly [Vec3, Vec3, Vec3]

/** The least signed distance of a convex solid over a triangle: attained at `point`, and nowhere below `lower`. mm */
export interface ConvexOnTriangle {
  readonly value: number
  readonly lower: number
  readonly point: Vec3
}

/** Each step leaves at most 1 − 1/√3 of what is too deep: 60 of them are more than double precision can tell. */
const STEPS = 60
/** A triangle cut in four this often is far below any tolerance; what is left then stays in the bound. */
const PIECES = 4000

/**
 * The least signed distance of a solid over a triangle, certain to `tolerance` mm wherever rounding allows it; what
 * is left is the difference of `value` and `lower`.
 */
export function leastOnTriangle(solid: Convex, triangle: Triangle, tolerance: number): ConvexOnTriangle {
  // A half space's distance is linear, so a corner has the least.
  if (!solid.support) return leastOf(triangle.map(p => exactly(solid, p)))
  const met = convexDistance(solid, triangleSolid(triangle), tolerance)
  const found = met.overlap
    ? deepestOnTriangle(solid, triangle, tolerance)
    : { ...exactly(solid, met.pointB), lower: met.lower }
  return found.value - found.lower <= tolerance ? found : refine(solid, triangle, found, tolerance)
}

const exactly = (solid: Convex, point: Vec3): ConvexOnTriangle => {
  const { value } = solid.signedDistance(point)
  return { value, lower: value, point }
}
const leastOf = (found: readonly ConvexOnTriangle[]) => found.reduce((a, b) => (b.value < a.value ? b : a))

/**
 * How deep a triangle that meets the solid reaches into it. A point of the triangle that is e mm from the solid shrunk
 * by a depth d lies between d − e and d − e/√3 deep: in a box it exceeds the shrunk one by at most its depth's
 * shortfall along each of three axes, in a cylinder along two. So from the core outwards d never falls short.
 */
function deepestOnTriangle(solid: Convex, triangle: Triangle, tolerance: number): ConvexOnTriangle {
  const { inset } = solid
  if (!inset)
    throw new Error('deepestOnTriangle: found a solid that cannot be shrunk, wanted box, cylinder or sphere')
  const flat = triangleSolid(triangle)
  let depth = inset.most
  let best = leastOf(triangle.map(p => exactly(solid, p)))
  for (let step = 0; step < STEPS; step++) {
    const met = convexDistance(inset.by(depth), flat, tolerance / 4)
    const here = exactly(solid, met.pointB)
    if (here.value < best.value) best = here
    if (met.overlap) break
    depth -= met.lower / Math.sqrt(3)
    if (best.value + depth <= tolerance) break
  }
  return { ...best, lower: Math.min(-depth, best.value) }
}

/** Cuts the triangle in four where tangent planes leave room for less, the most promising piece first. */
function refine(
  solid: Convex,
  whole: Triangle,
  found: ConvexOnTriangle,
  tolerance: number,
): ConvexOnTriangle {
  let best = found
  const open = new NearestHeap<Triangle>()
  const look = (piece: Triangle) => {
    const bound = underTangents(solid, piece)
    if (bound.value < best.value) best = { ...bound, lower: found.lower }
    if (bound.lower < best.value) open.push(bound.lower, piece)
  }
  look(whole)
  for (let n = 0; n < PIECES && open.size > 0 && open.least < best.value - tolerance; n++) {
    const [p, q, r] = open.pop()!
    const [a, b, c] = [scale(add(p, q), 0.5), scale(add(q, r), 0.5), scale(add(r, p), 0.5)]
    for (const piece of [
      [p, a, c],
      [a, q, b],
      [c, b, r],
      [a, b, c],
    ] as const)
      look(piece)
  }
  return { ...best, lower: Math.min(best.value, Math.max(found.lower, open.least)) }
}

/** The signed distance is convex: no tangent plane to it passes above it, so the best of four bounds a triangle. */
export function underTangents(solid: Convex, triangle: Triangle): ConvexOnTriangle {
  const [p, q, r] = triangle
  const middle = scale(add(add(p, q), r), 1 / 3)
  let lower = -Infinity
  let best: { value: number; point: Vec3 } | null = null
  for (const point of [middle, p, q, r]) {
    const { value, gradient } = solid.signedDistance(point)
    if (!best || value < best.value) best = { value, point }
    const under = value + Math.min(...triangle.map(corner => dot(gradient, sub(corner, point))))
    lower = Math.max(lower, under)
  }
  return { ...best!, lower: Math.min(lower, best!.value) }
}
