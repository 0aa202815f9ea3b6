import {
  endSections,
  nearestOnDisc,
  nearestParameter,
  pointOnShape,
  type Section,
  type Swept,
} from './swept.ts'
import { type Gap, ROUNDING } from './sweptGap.ts'
import { addScaled, anySquareTo, distance, dot, scale, sub, type Vec3 } from './vec3.ts'

interface Place {
  readonly gap: number
  readonly pointA: Vec3
  readonly shapeA: number
}

/**
 * Gap between a swept outside (A) and a point (B), mm, in closed form: the nearest place of each line, arc and cut end.
 * Negative inside, then minus the way out.
 */
export function sweptPointGap(A: Swept, p: Vec3): Gap {
  const sides = A.shapes.flatMap((_, k) => onSide(A, p, k) ?? [])
  const ends = endSections(A.shapes).map((end, k) => onDisc(A, p, end, k === 0 ? 0 : A.shapes.length - 1))
  const inside = sides.filter(s => s.gap < 0)
  // Inside, the way out is through a side or an end; outside, the nearest of them.
  const deepest = inside.reduce<Place | null>((a, b) => (a && a.gap <= b.gap ? a : b), null)
  const best = deepest
    ? ends.map(e => ({ ...e, gap: -e.gap })).reduce((a, b) => (b.gap > a.gap ? b : a), deepest)
    : [...sides, ...ends].reduce((a, b) => (b.gap < a.gap ? b : a))
  return { ...best, shapeA: A.first + best.shapeA, errorBound: ROUNDING, pointB: p, shapeB: 0 }
}

/** The nearest place of a shape's side; null where the point lies past the shape's ends. */
function onSide(A: Swept, p: Vec3, index: number): Place | null {
  const shape = A.shapes[index]!
  const t = nearestParameter(shape, p)
  const on = pointOnShape(shape, t)
  const [from, to] = endSections([shape])
  if (dot(sub(p, from.at), from.way) < 0 && t === 0) return null
  if (dot(sub(p, to.at), to.way) > 0 && t === (shape.kind === 'arc' ? shape.angleRad : 1)) return null
  const apart = distance(on, p)
  const out = apart > 0 ? scale(sub(p, on), 1 / apart) : anySquareTo(shape.direction)
  return { gap: apart - A.radius, pointA: addScaled(on, out, A.radius), shapeA: index }
}

function onDisc(A: Swept, p: Vec3, { at, way }: Section, shapeA: number): Place {
  const pointA = nearestOnDisc(at, way, A.radius, p)
  return { gap: distance(p, pointA), pointA, shapeA }
}
