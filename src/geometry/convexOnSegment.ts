import type { Convex } from './convex.ts'
import { dot, lerp, sub, type Vec3 } from './vec3.ts'

export interface ConvexOnSegment {
  /** Place of the least value, 0 at `a`, 1 at `b`. */
  readonly t: number
  /** The value there, mm. */
  readonly value: number
  /** No place of the segment has less than this, mm. */
  readonly lower: number
  /** Way out of the solid at `t`, unit. */
  readonly gradient: Vec3
}

/** The cuts at least quarter the gap on smooth stretches; on straight ones they end at once. */
const MAX_CUTS = 60

/**
 * Least signed distance of a convex solid along a segment, certain to `tolerance` (mm).
 *
 * The function is convex, so its tangents lie below it: two of them that bracket the minimum meet at a lower
 * bound, and where they meet is the next place to look (Kelley's cutting planes in one dimension).
 */
export function leastOnSegment(solid: Convex, a: Vec3, b: Vec3, tolerance: number): ConvexOnSegment {
  const along = sub(b, a)
  const at = (t: number) => {
    const { value, gradient } = solid.signedDistance(lerp(a, b, t))
    return { t, value, gradient, slope: dot(gradient, along) }
  }
  let left = at(0)
  if (left.slope >= 0) return { ...left, lower: left.value }
  let right = at(1)
  if (right.slope <= 0) return { ...right, lower: right.value }
  let best = left.value <= right.value ? left : right
  let lower = -Infinity
  for (let cut = 0; cut < MAX_CUTS; cut++) {
    const meet =
      (right.value - left.value + left.slope * left.t - right.slope * right.t) / (left.slope - right.slope)
    const t = Math.min(Math.max(meet, left.t), right.t)
    lower = Math.min(best.value, left.value + left.slope * (t - left.t))
    if (best.value - lower <= tolerance) break
    const here = at(t)
    if (here.value < best.value) best = here
    if (here.slope === 0) {
      lower = here.value
      break
    }
    if (here.slope < 0) left = here
    else right = here
  }
  return { t: best.t, value: best.value, lower: Math.min(lower, best.value), gradient: best.gradient }
}
