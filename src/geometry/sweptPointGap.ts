import { nearestParameter, pointOnShape, type Swept } from './swept.ts'
import { type Gap, ROUNDING } from './sweptGap.ts'
import { addScaled, anySquareTo, distance, scale, sub, type Vec3 } from './vec3.ts'

/**
 * Gap between a swept outside (A) and a point (B), mm, in closed form: the nearest place of each line and arc. Negative
 * inside, then minus the way out. Cut ends are flat; an end on an arc is rounded, which `errorBound` says.
 */
export function sweptPointGap(A: Swept, p: Vec3): Gap {
  let best: Gap | null = null
  const last = A.shapes.length - 1
  A.shapes.forEach((shape, index) => {
    const cut = A.stretches.find(s => s.index === index && s.solid)?.solid
    let gap: number
    let pointA: Vec3
    let errorBound = ROUNDING
    if (cut) {
      const { value, gradient } = cut.signedDistance(p)
      gap = value
      pointA = addScaled(p, gradient, -value)
    } else {
      const t = nearestParameter(shape, p)
      const on = pointOnShape(shape, t)
      const apart = distance(on, p)
      const out = apart > 0 ? scale(sub(p, on), 1 / apart) : anySquareTo(shape.direction)
      gap = apart - A.radius
      pointA = addScaled(on, out, A.radius)
      const ends = shape.kind === 'arc' ? [0, shape.angleRad] : []
      if ((index === 0 && t === ends[0]) || (index === last && t === ends[1])) errorBound += A.radius
    }
    if (!best || gap < best.gap)
      best = { gap, errorBound, pointA, pointB: p, shapeA: index, shapeB: 0 } satisfies Gap
  })
  return best!
}
