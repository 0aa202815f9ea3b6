import { dot, type Vec3 } from '../geometry/vec3.ts'

/** A box with its own axes (unit, square to each other) and half edge lengths, mm. */
export interface ConvexBox {
  readonly shape: 'box'
  readonly name: string
  readonly centre: Vec3
  readonly axes: readonly [Vec3, Vec3, Vec3]
  readonly half: Vec3
}
/** A cylinder with flat ends, mm; `axis` is a unit vector. */
export interface ConvexCylinder {
  readonly shape: 'cylinder'
  readonly name: string
  readonly centre: Vec3
  readonly axis: Vec3
  readonly halfLength: number
  readonly radius: number
}
export type ConvexSolid = ConvexBox | ConvexCylinder

/**
 * A stretch of tube: everything within `radius` of the segment from `from` to `to`. `flat`: cut square at
 * both ends (a straight); otherwise round (the chord of a piece of bend, whose neighbours fill the ends).
 */
export interface Rod {
  readonly from: Vec3
  readonly to: Vec3
  readonly radius: number
  readonly flat: boolean
}

/** Largest a·p over the solid. */
export function solidReach(solid: ConvexSolid, a: Vec3): number {
  const centre = dot(a, solid.centre)
  if (solid.shape === 'box') {
    const { axes, half } = solid
    return (
      centre +
      half[0] * Math.abs(dot(a, axes[0])) +
      half[1] * Math.abs(dot(a, axes[1])) +
      half[2] * Math.abs(dot(a, axes[2]))
    )
  }
  const along = dot(a, solid.axis)
  return (
    centre +
    solid.halfLength * Math.abs(along) +
    solid.radius * Math.sqrt(Math.max(0, dot(a, a) - along * along))
  )
}

/** Smallest a·p over the rod; `a` need not be a unit vector. */
export function rodNearest(rod: Rod, a: Vec3): number {
  const p = dot(a, rod.from)
  const q = dot(a, rod.to)
  const core = Math.min(p, q)
  const aa = dot(a, a)
  if (!rod.flat) return core - rod.radius * Math.sqrt(aa)
  const dx = rod.to[0] - rod.from[0]
  const dy = rod.to[1] - rod.from[1]
  const dz = rod.to[2] - rod.from[2]
  const ll = dx * dx + dy * dy + dz * dz
  const along = ll > 0 ? (q - p) ** 2 / ll : 0
  return core - rod.radius * Math.sqrt(Math.max(0, aa - along))
}

/** Signed distance of a point from the solid's surface, mm, negative inside (then to the nearest face). */
export function signedDistance(solid: ConvexSolid, p: Vec3): number {
  return signedDistanceTo(solid, p[0], p[1], p[2])
}

/** The same of a point given by its coordinates: nothing is made for it. */
export function signedDistanceTo(solid: ConvexSolid, x: number, y: number, z: number): number {
  const [dx, dy, dz] = [x - solid.centre[0], y - solid.centre[1], z - solid.centre[2]]
  let deepest = Number.NEGATIVE_INFINITY
  let outside = 0
  if (solid.shape === 'box') {
    for (let i = 0; i < 3; i++) {
      const axis = solid.axes[i]!
      const over = Math.abs(dx * axis[0] + dy * axis[1] + dz * axis[2]) - solid.half[i]!
      deepest = Math.max(deepest, over)
      if (over > 0) outside += over * over
    }
  } else {
    const { axis } = solid
    const along = dx * axis[0] + dy * axis[1] + dz * axis[2]
    const beyond = Math.abs(along) - solid.halfLength
    const off = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - along * along)) - solid.radius
    deepest = Math.max(beyond, off)
    outside = (beyond > 0 ? beyond * beyond : 0) + (off > 0 ? off * off : 0)
  }
  return deepest <= 0 ? deepest : Math.sqrt(outside)
}

/** Half the solid's least thickness, mm. */
export const inradius = (solid: ConvexSolid): number =>
  solid.shape === 'box' ? Math.min(...solid.half) : Math.min(solid.halfLength, solid.radius)

/** The points of the solid at least `by` under its surface; `by` ≤ inradius. */
export function eroded(solid: ConvexSolid, by: number): ConvexSolid {
  if (solid.shape === 'cylinder')
    return {
      ...solid,
      halfLength: Math.max(0, solid.halfLength - by),
      radius: Math.max(0, solid.radius - by),
    }
  const [x, y, z] = solid.half
  return { ...solid, half: [Math.max(0, x - by), Math.max(0, y - by), Math.max(0, z - by)] }
}
