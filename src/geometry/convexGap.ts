import type { Convex } from './convex.ts'
import { convexDistance } from './convexPair.ts'
import { ROUNDING } from './sweptGap.ts'
import { addScaled, cross, dot, scale, sub, unit, type Vec3 } from './vec3.ts'

/** How near two convex solids come, mm. Negative when they overlap: minus a shift that certainly frees them. */
export interface ConvexGap {
  readonly gap: number
  /** The true distance is no further than this from `gap`; for an overlap the least shift may be less than said. */
  readonly errorBound: number
  readonly pointA: Vec3
  readonly pointB: Vec3
}

/** The search stops at this; what is left is in `errorBound`. mm */
const TOLERANCE = 1e-7

/** Parallel to rounding: then two half spaces that face each other have one distance. */
const PARALLEL = 1e-12

/**
 * Gap of two convex solids. One of them may be a half space; two only when they are parallel and face each other.
 *
 * @throws RangeError when two half spaces meet or lie in each other: there is no one distance.
 */
export function convexGap(A: Convex, B: Convex): ConvexGap {
  if (!A.support && !B.support) return planes(A, B)
  if (!B.support) return onPlane(A, B)
  if (!A.support) {
    const { gap, errorBound, pointA, pointB } = onPlane(B, A)
    return { gap, errorBound, pointA: pointB, pointB: pointA }
  }
  const met = convexDistance(A, B, TOLERANCE)
  if (!met.overlap)
    return {
      gap: met.upper,
      errorBound: met.upper - met.lower + ROUNDING,
      pointA: met.pointA,
      pointB: met.pointB,
    }
  const { shift, way, from } = shiftThatFrees(A, B)
  return { gap: -shift, errorBound: ROUNDING, pointA: from, pointB: addScaled(from, way, shift) }
}

/** A bounded solid's lowest point over a plane is exact. */
function onPlane(A: Convex, plane: Convex): ConvexGap {
  const normal = plane.directions[0]!
  const pointA = A.support!(scale(normal, -1))
  const { value } = plane.signedDistance(pointA)
  return { gap: value, errorBound: ROUNDING, pointA, pointB: addScaled(pointA, normal, -value) }
}

function planes(A: Convex, B: Convex): ConvexGap {
  const [a, b] = [A.directions[0]!, B.directions[0]!]
  if (dot(a, b) > -1 + PARALLEL)
    throw new RangeError('found two planes that meet or face the same way, wanted two that face each other')
  const origin: Vec3 = [0, 0, 0]
  const pointA = addScaled(origin, a, -A.signedDistance(origin).value)
  const { value } = B.signedDistance(pointA)
  return { gap: value, errorBound: ROUNDING, pointA, pointB: addScaled(pointA, b, -value) }
}

const middle = (c: Convex): Vec3 => [
  (c.low[0] + c.high[0]) / 2,
  (c.low[1] + c.high[1]) / 2,
  (c.low[2] + c.high[2]) / 2,
]

/**
 * The least of the shifts of A along: face normals and axes of both, directions square to two of them, the line of
 * middles, and that line square to each axis. Each of them frees the two, so the least does; for boxes these are all
 * directions in which the least shift can lie (separating axes).
 */
function shiftThatFrees(A: Convex, B: Convex): { shift: number; way: Vec3; from: Vec3 } {
  const apart = sub(middle(A), middle(B))
  const own = [...A.directions, ...B.directions]
  const ways = [
    ...own,
    ...A.directions.flatMap(a => B.directions.map(b => cross(a, b))),
    apart,
    ...own.map(n => addScaled(apart, n, -dot(apart, n))),
    [1, 0, 0] as Vec3,
  ]
  let best = { shift: Infinity, way: [1, 0, 0] as Vec3, from: middle(A) }
  for (const direction of ways) {
    const n = unit(direction)
    if (!n || dot(direction, direction) < 1e-18) continue
    for (const way of [n, scale(n, -1)]) {
      // Moving A along `way`, its hindmost point has to pass B's foremost.
      const from = A.support!(scale(way, -1))
      const shift = dot(way, B.support!(way)) - dot(way, from)
      if (shift < best.shift) best = { shift, way, from }
    }
  }
  return best
}
