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
  const d: Vec3 = [p[0] - solid.centre[0], p[1] - solid.centre[1], p[2] - solid.centre[2]]
  const out: number[] = []
  if (solid.shape === 'box') {
    for (let i = 0; i < 3; i++) out.push(Math.abs(dot(d, solid.axes[i]!)) - solid.half[i]!)
  } else {
    const along = dot(d, solid.axis)
    out.push(Math.abs(along) - solid.halfLength)
    out.push(Math.sqrt(Math.max(0, dot(d, d) - along * along)) - solid.radius)
  }
  const deepest = Math.max(...out)
  if (deepest <= 0) return deepest
  return Math.sqrt(out.reduce((s, v) => s + (v > 0 ? v * v : 0), 0))
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
