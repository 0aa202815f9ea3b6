import type { Convex, SignedDistance } from './convex.ts'
import { pointOnShape, type Shape } from './swept.ts'
import { cross, dot, sub, type Vec3 } from './vec3.ts'

/** Halvings of a stretch of at most an eighth of a turn: enough for 1e-12 of it. */
const HALVINGS = 40

export interface PlaceOnArc extends SignedDistance {
  /** Radians from the arc's start. */
  readonly t: number
  readonly point: Vec3
}

/**
 * The best place found on a range (radians) of a true arc for a solid's signed distance, `start` or better: by
 * halving on the sign of the slope. No bound comes with it; it sharpens a figure that is already bounded.
 */
export function walkDown(
  solid: Convex,
  shape: Shape,
  range: readonly [number, number],
  start: number,
): PlaceOnArc {
  const at = (t: number): PlaceOnArc => {
    const point = pointOnShape(shape, t)
    return { t, point, ...solid.signedDistance(point) }
  }
  let [from, to] = range
  let best = at(Math.min(Math.max(start, from), to))
  if (shape.kind === 'line') return best
  for (let k = 0; k < HALVINGS; k++) {
    const here = at((from + to) / 2)
    if (here.value < best.value) best = here
    const slope = dot(here.gradient, cross(shape.normal, sub(here.point, shape.centre)))
    if (slope > 0) to = here.t
    else from = here.t
  }
  return best
}
