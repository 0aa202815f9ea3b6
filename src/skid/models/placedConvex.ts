import type { Convex } from '../../geometry/convex.ts'
import { add, addScaled, dot, type Vec3 } from '../../geometry/vec3.ts'
import type { PlacedFrame } from './placement.ts'

/** A solid of the skid as the model's frame has it; the same shape, so every distance is the same to rounding. */
export function convexToModel(solid: Convex, frame: PlacedFrame): Convex {
  if (frame.same) return solid
  const { axes, toModel, toSkid } = frame
  const into = (v: Vec3): Vec3 => [dot(v, axes[0]), dot(v, axes[1]), dot(v, axes[2])]
  const outOf = (v: Vec3): Vec3 =>
    add(addScaled([v[0] * axes[0][0], v[0] * axes[0][1], v[0] * axes[0][2]], axes[1], v[1]), [
      v[2] * axes[2][0],
      v[2] * axes[2][1],
      v[2] * axes[2][2],
    ])
  const { support, inset } = solid
  const supported = support && ((n: Vec3): Vec3 => toModel(support(outOf(n))))
  const bound = (way: Vec3, k: number) => supported?.(way)[k] ?? (way[k]! < 0 ? -Infinity : Infinity)
  return {
    signedDistance: p => {
      const { value, gradient } = solid.signedDistance(toSkid(p))
      return { value, gradient: into(gradient) }
    },
    support: supported,
    directions: solid.directions.map(into),
    ...(inset && {
      inset: { most: inset.most, by: (depth: number) => convexToModel(inset.by(depth), frame) },
    }),
    low: [bound([-1, 0, 0], 0), bound([0, -1, 0], 1), bound([0, 0, -1], 2)],
    high: [bound([1, 0, 0], 0), bound([0, 1, 0], 1), bound([0, 0, 1], 2)],
  }
}
