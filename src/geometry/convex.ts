import { add, addScaled, anySquareTo, DEG, dot, length, scale, sub, unit, type Vec3 } from './vec3.ts'

export interface SignedDistance {
  /** mm; negative inside, where it is minus the way to the nearest face. */
  readonly value: number
  /** A unit subgradient of `value`: the way out. */
  readonly gradient: Vec3
}

/**
 * A convex solid. Its signed distance is a convex function of the point, inside too, so a tangent plane to it is
 * a lower bound everywhere: that is what the certified minima along curves rest on.
 */
export interface Convex {
  readonly signedDistance: (p: Vec3) => SignedDistance
  /** A point of the solid furthest along `n`; null for a half space, which has none. */
  readonly support: ((n: Vec3) => Vec3) | null
  /** Normals of flat faces and axes: the directions along which an overlap is measured. Unit. */
  readonly directions: readonly Vec3[]
  /** What lies deeper than some mm under the surface; left out where nobody asks how deep something reaches. */
  readonly inset?: Inset
  /** Axis-parallel bounds; infinite for a half space. */
  readonly low: Vec3
  readonly high: Vec3
}

/** A solid shrunk by a depth, 0 … `most` mm; at `most` nothing but its core is left. */
export interface Inset {
  readonly most: number
  /** Its points are those with a signed distance of −`depth` or less. */
  readonly by: (depth: number) => Convex
}

const sign = (x: number) => (x < 0 ? -1 : 1)

/** Bounds from a support function. */
function boundsOf(support: (n: Vec3) => Vec3): { low: Vec3; high: Vec3 } {
  return {
    low: [support([-1, 0, 0])[0], support([0, -1, 0])[1], support([0, 0, -1])[2]],
    high: [support([1, 0, 0])[0], support([0, 1, 0])[1], support([0, 0, 1])[2]],
  }
}

/** The unit axes of a frame turned about the fixed x, then y, then z axis by `turn` degrees: R = Rz·Ry·Rx. */
export function turnedAxes(turn: Vec3): readonly [Vec3, Vec3, Vec3] {
  const [cx, sx] = [Math.cos(turn[0] * DEG), Math.sin(turn[0] * DEG)]
  const [cy, sy] = [Math.cos(turn[1] * DEG), Math.sin(turn[1] * DEG)]
  const [cz, sz] = [Math.cos(turn[2] * DEG), Math.sin(turn[2] * DEG)]
  return [
    [cz * cy, sz * cy, -sy],
    [cz * sy * sx - sz * cx, sz * sy * sx + cz * cx, cy * sx],
    [cz * sy * cx + sz * sx, sz * sy * cx - cz * sx, cy * cx],
  ]
}

/** Box by centre, full edge lengths (mm, > 0) and turn (degrees, see `turnedAxes`). */
export function box(at: Vec3, size: Vec3, turn: Vec3): Convex {
  const axes = turnedAxes(turn)
  const half: Vec3 = [size[0] / 2, size[1] / 2, size[2] / 2]
  const support = (n: Vec3): Vec3 => {
    let p = at
    for (const k of [0, 1, 2] as const) p = addScaled(p, axes[k], sign(dot(n, axes[k])) * half[k])
    return p
  }
  const signedDistance = (p: Vec3): SignedDistance => {
    const r = sub(p, at)
    const [lx, ly, lz] = [dot(r, axes[0]), dot(r, axes[1]), dot(r, axes[2])]
    const [qx, qy, qz] = [Math.abs(lx) - half[0], Math.abs(ly) - half[1], Math.abs(lz) - half[2]]
    if (qx <= 0 && qy <= 0 && qz <= 0) {
      const k = qx >= qy && qx >= qz ? 0 : qy >= qz ? 1 : 2
      return {
        value: Math.max(qx, qy, qz),
        gradient: scale(axes[k], sign(k === 0 ? lx : k === 1 ? ly : lz)),
      }
    }
    const [ox, oy, oz] = [Math.max(qx, 0), Math.max(qy, 0), Math.max(qz, 0)]
    const value = Math.sqrt(ox * ox + oy * oy + oz * oz)
    let gradient = scale(axes[0], (sign(lx) * ox) / value)
    gradient = addScaled(gradient, axes[1], (sign(ly) * oy) / value)
    return { value, gradient: addScaled(gradient, axes[2], (sign(lz) * oz) / value) }
  }
  const inset: Inset = {
    most: Math.min(...half),
    by: d => box(at, size.map(s => Math.max(0, s - 2 * d)) as unknown as Vec3, turn),
  }
  return { signedDistance, support, directions: axes, inset, ...boundsOf(support) }
}

/**
 * Cylinder with flat ends square to `axis` (unit), by centre, length (≥ 0; 0 is a disc) and radius (> 0), mm.
 */
export function cylinder(at: Vec3, axis: Vec3, height: number, radius: number): Convex {
  const half = height / 2
  const support = (n: Vec3): Vec3 => {
    const along = dot(n, axis)
    const radial = addScaled(n, axis, -along)
    const out = unit(radial)
    const end = addScaled(at, axis, sign(along) * half)
    // Square to the end, every point of its disc is as far: the middle one keeps the search steady.
    if (!out || length(radial) <= 1e-12 * length(n)) return end
    // Nearly so, what rounding leaves of the direction may lean along the axis, and the point off the disc.
    return addScaled(end, unit(addScaled(out, axis, -dot(out, axis))) ?? out, radius)
  }
  const signedDistance = (p: Vec3): SignedDistance => {
    const r = sub(p, at)
    const along = dot(r, axis)
    const radial = addScaled(r, axis, -along)
    const rho = length(radial)
    const out = rho > 0 ? scale(radial, 1 / rho) : anySquareTo(axis)
    const qr = rho - radius
    const qa = Math.abs(along) - half
    const face = sign(along)
    if (qr <= 0 && qa <= 0)
      return qr >= qa ? { value: qr, gradient: out } : { value: qa, gradient: scale(axis, face) }
    if (qa <= 0) return { value: qr, gradient: out }
    if (qr <= 0) return { value: qa, gradient: scale(axis, face) }
    const value = Math.sqrt(qr * qr + qa * qa)
    return { value, gradient: add(scale(out, qr / value), scale(axis, (face * qa) / value)) }
  }
  const inset: Inset = {
    most: Math.min(half, radius),
    by: d => cylinder(at, axis, Math.max(0, height - 2 * d), Math.max(0, radius - d)),
  }
  return { signedDistance, support, directions: [axis], inset, ...boundsOf(support) }
}

/** Sphere by centre and radius (> 0), mm. */
export function sphere(at: Vec3, radius: number): Convex {
  const support = (n: Vec3): Vec3 => addScaled(at, unit(n) ?? [0, 0, 1], radius)
  const signedDistance = (p: Vec3): SignedDistance => {
    const r = sub(p, at)
    const l = length(r)
    return { value: l - radius, gradient: l > 0 ? scale(r, 1 / l) : [0, 0, 1] }
  }
  const inset: Inset = { most: radius, by: d => sphere(at, Math.max(0, radius - d)) }
  return { signedDistance, support, directions: [], inset, ...boundsOf(support) }
}

/** Everything behind the plane through `at`; `normal` (unit) points to the free side. */
export function halfSpace(at: Vec3, normal: Vec3): Convex {
  return {
    signedDistance: p => ({ value: dot(normal, sub(p, at)), gradient: normal }),
    support: null,
    directions: [normal],
    low: [-Infinity, -Infinity, -Infinity],
    high: [Infinity, Infinity, Infinity],
  }
}

/** A flat-ended cylinder between two points; `fallback` (unit) is its axis when they coincide. */
export function cylinderBetween(a: Vec3, b: Vec3, radius: number, fallback: Vec3): Convex {
  const along = sub(b, a)
  const height = length(along)
  const axis = height > 1e-12 ? scale(along, 1 / height) : fallback
  return cylinder(scale(add(a, b), 0.5), axis, height, radius)
}

/** A shape of which only the support is known, for `convexDistance`; `at` is a place of it. */
export const supportOnly = (support: (n: Vec3) => Vec3, at: Vec3): Convex => ({
  signedDistance: () => {
    throw new Error('supportOnly: found a question for a signed distance, wanted support only')
  },
  support,
  directions: [],
  low: at,
  high: at,
})
