import type { Solid } from '../document/types.ts'
import { addScaled, anySquareTo, cross, dot, length, scale, sub, unit, type Vec3 } from '../geometry/vec3.ts'
import { cornersOf } from './measurable.ts'

/** Straight pieces of a full turn in an outline: for drawing, never for measuring. */
const AROUND = 72

/**
 * Where a plane cuts a solid: the corners of the cut in order around, mm; empty when the plane misses it or the solid
 * is a plane itself. Round outlines are given as polygons with their corners on the true outline.
 *
 * @param normal unit.
 */
export function sectionOutline(solid: Solid, at: Vec3, normal: Vec3): Vec3[] {
  const height = (p: Vec3) => dot(sub(p, at), normal)
  switch (solid.shape) {
    case 'plane':
      return []
    case 'sphere': {
      const off = height(solid.at)
      const r = Math.sqrt(Math.max(0, solid.radius ** 2 - off * off))
      return r > 0 ? circle(addScaled(solid.at, normal, -off), normal, r) : []
    }
    case 'box': {
      const corners = cornersOf(solid)
      const cuts = [0, 1, 2].flatMap(k =>
        corners.flatMap((from, i) => ((i >> k) & 1 ? [] : crossing(from, corners[i | (1 << k)]!, height))),
      )
      return inOrder(cuts, normal)
    }
    case 'cylinder': {
      const axis = unit(solid.axis)
      if (!axis) return []
      const rims = [-0.5, 0.5].map(s =>
        circle(addScaled(solid.at, axis, s * solid.length), axis, solid.radius),
      )
      const [low, high] = rims as [Vec3[], Vec3[]]
      return inOrder(
        [
          ...low.flatMap((p, i) => crossing(p, high[i]!, height)),
          ...rims.flatMap(rim => rim.flatMap((p, i) => crossing(p, rim[(i + 1) % AROUND]!, height))),
        ],
        normal,
      )
    }
  }
}

function circle(centre: Vec3, axis: Vec3, radius: number): Vec3[] {
  const u = anySquareTo(axis)
  const v = cross(axis, u)
  return Array.from({ length: AROUND }, (_, i) => {
    const t = (2 * Math.PI * i) / AROUND
    return addScaled(addScaled(centre, u, radius * Math.cos(t)), v, radius * Math.sin(t))
  })
}

/** The point of a segment at height 0; none when both ends are on one side. An end on the plane counts once. */
function crossing(a: Vec3, b: Vec3, height: (p: Vec3) => number): Vec3[] {
  const [ha, hb] = [height(a), height(b)]
  if (ha > 0 === hb > 0) return []
  return [addScaled(a, sub(b, a), ha / (ha - hb))]
}

/** Corners of a convex outline, counter-clockwise about `normal`. */
function inOrder(points: readonly Vec3[], normal: Vec3): Vec3[] {
  if (points.length < 3) return []
  const middle = scale(
    points.reduce<Vec3>((m, p) => [m[0] + p[0], m[1] + p[1], m[2] + p[2]], [0, 0, 0]),
    1 / points.length,
  )
  const u = anySquareTo(normal)
  const v = cross(normal, u)
  const turn = (p: Vec3) => Math.atan2(dot(sub(p, middle), v), dot(sub(p, middle), u))
  return points.filter(p => length(sub(p, middle)) > 0).sort((p, q) => turn(p) - turn(q))
}
