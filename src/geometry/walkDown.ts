import type { Convex, SignedDistance } from './convex.ts'
import { pointOnShape, type Stretch } from './swept.ts'
import { cross, dot, sub, type Vec3 } from './vec3.ts'

/** Halvings of a stretch of at most an eighth of a turn: enough for 1e-12 of it. */
const HALVINGS = 40

export interface PlaceOnArc extends SignedDistance {
  /** Radians from the arc's start. */
  readonly t: number
  readonly point: Vec3
}

/**
 * The best place found on a stretch of a true arc for a solid's signed distance, `start` (radians) or better: by
 * halving on the sign of the slope. No bound comes with it; it sharpens a figure that is already bounded.
 */
export function walkDown(solid: Convex, stretch: Stretch, start: number): PlaceOnArc {
  const { shape } = stretch
  const at = (t: number): PlaceOnArc => {
    const point = pointOnShape(shape, t)
    return { t, point, ...solid.signedDistance(point) }
  }
  let best = at(start)
  if (shape.kind === 'line') return best
  let { from, to } = stretch
  for (let k = 0; k < HALVINGS; k++) {
    const here = at((from + to) / 2)
    if (here.value < best.value) best = here
    const slope = dot(here.gradient, cross(shape.normal, sub(here.point, shape.centre)))
    if (slope > 0) to = here.t
    else from = here.t
  }
  return best
}
