import type { BoxSolid, Solid } from '../../document/types.ts'
import {
  add,
  addScaled,
  cross,
  DEG,
  dot,
  scale,
  sub,
  turnDirection,
  unit,
  type Vec3,
} from '../../geometry/vec3.ts'
import type { Ray } from './cameraRig.ts'

export interface FaceHit {
  /** mm along the ray. */
  readonly along: number
  readonly point: Vec3
  /** Unit, out of the solid. */
  readonly normal: Vec3
}

/** The box's own x, y and z directions: turned about the fixed x, then y, then z axis. */
export function boxAxes(box: BoxSolid): readonly [Vec3, Vec3, Vec3] {
  const turned = (v: Vec3): Vec3 =>
    turnDirection(
      turnDirection(turnDirection(v, [1, 0, 0], box.turn[0] * DEG), [0, 1, 0], box.turn[1] * DEG),
      [0, 0, 1],
      box.turn[2] * DEG,
    )
  return [turned([1, 0, 0]), turned([0, 1, 0]), turned([0, 0, 1])]
}

/** Where a ray (unit direction) first enters the solid; null when it misses, or starts inside. */
export function rayMeetsSolid(ray: Ray, solid: Solid): FaceHit | null {
  switch (solid.shape) {
    case 'box': {
      const axes = boxAxes(solid)
      const slabs = axes.flatMap((axis, i) => {
        const half = solid.size[i]! / 2
        return [
          { normal: axis, offset: dot(axis, solid.at) + half },
          { normal: scale(axis, -1), offset: -dot(axis, solid.at) + half },
        ]
      })
      return rayMeetsSlabs(ray, slabs)
    }
    case 'plane': {
      const normal = unit(solid.normal)
      return normal && rayMeetsSlabs(ray, [{ normal, offset: dot(normal, solid.at) }])
    }
    case 'sphere': {
      const w = sub(ray.origin, solid.at)
      const b = dot(w, ray.direction)
      const inside = b * b - dot(w, w) + solid.radius ** 2
      if (inside < 0) return null
      const along = -b - Math.sqrt(inside)
      if (along < 0) return null
      const point = addScaled(ray.origin, ray.direction, along)
      return { along, point, normal: unit(sub(point, solid.at)) ?? [0, 0, 1] }
    }
    case 'cylinder': {
      const axis = unit(solid.axis)
      if (!axis) return null
      const w = sub(ray.origin, solid.at)
      const d = addScaled(ray.direction, axis, -dot(ray.direction, axis))
      const o = addScaled(w, axis, -dot(w, axis))
      const a = dot(d, d)
      let enter = Number.NEGATIVE_INFINITY
      let leave = Number.POSITIVE_INFINITY
      const b = dot(o, d)
      const c = dot(o, o) - solid.radius ** 2
      if (a > 1e-12) {
        const inside = b * b - a * c
        if (inside < 0) return null
        enter = (-b - Math.sqrt(inside)) / a
        leave = (-b + Math.sqrt(inside)) / a
      } else if (c > 0) return null
      const side = enter
      const ends = rayMeetsSlabs(
        ray,
        [axis, scale(axis, -1)].map(n => ({ normal: n, offset: dot(n, solid.at) + solid.length / 2 })),
        enter,
        leave,
      )
      if (ends) return ends
      const along = side
      const height = dot(addScaled(w, ray.direction, along), axis)
      if (!(along >= 0 && Math.abs(height) <= solid.length / 2)) return null
      const point = addScaled(ray.origin, ray.direction, along)
      return { along, point, normal: unit(add(o, scale(d, along))) ?? cross(axis, [1, 0, 0]) }
    }
  }
}

/** Entry into the convex body of half spaces normal·p ≤ offset, at a face of these between `from` and `to`. */
function rayMeetsSlabs(
  ray: Ray,
  slabs: readonly { normal: Vec3; offset: number }[],
  from = Number.NEGATIVE_INFINITY,
  to = Number.POSITIVE_INFINITY,
): FaceHit | null {
  let enter = from
  let leave = to
  let face: Vec3 | null = null
  for (const { normal, offset } of slabs) {
    const fall = dot(normal, ray.direction)
    const gap = offset - dot(normal, ray.origin)
    if (Math.abs(fall) < 1e-12) {
      if (gap < 0) return null
      continue
    }
    const t = gap / fall
    if (fall < 0) {
      if (t > enter) {
        enter = t
        face = normal
      }
    } else leave = Math.min(leave, t)
  }
  if (!face || enter < 0 || enter > leave) return null
  return { along: enter, point: addScaled(ray.origin, ray.direction, enter), normal: face }
}
