import { addScaled, anySquareTo, cross, dot, length, scale, type Vec3 } from '../../geometry/vec3.ts'

/**
 * Space, a plane, a line or a point, as the set of points p with normal·p = offset for every one of its orthonormal
 * normals: none for space, three for a point. Lengths mm.
 */
export interface Flat {
  readonly normals: readonly Vec3[]
  readonly offsets: readonly number[]
}

/** Below this sine two directions are one: meeting them would fling the answer far off. */
const NEARLY_PARALLEL = 1e-3
/** Two parallel flats nearer than this are the same. mm. */
const SAME_MM = 1e-6

export const SPACE: Flat = { normals: [], offsets: [] }

/** 3 for space, 2 for a plane, 1 for a line, 0 for a point. */
export const freedoms = (flat: Flat): number => 3 - flat.normals.length

/** What of `flat` lies on the plane normal·p = offset; null when nothing does (or only nearly parallel, far away). */
export function meetPlane(flat: Flat, normal: Vec3, offset: number): Flat | null {
  let n = normal
  let c = offset
  flat.normals.forEach((m, i) => {
    const along = dot(normal, m)
    n = addScaled(n, m, -along)
    c -= along * flat.offsets[i]!
  })
  const l = length(n)
  if (l < NEARLY_PARALLEL) return Math.abs(c) <= SAME_MM ? flat : null
  return { normals: [...flat.normals, scale(n, 1 / l)], offsets: [...flat.offsets, c / l] }
}

export function meet(a: Flat, b: Flat): Flat | null {
  let out: Flat | null = a
  for (let i = 0; i < b.normals.length && out; i++) out = meetPlane(out, b.normals[i]!, b.offsets[i]!)
  return out
}

export const planeThrough = (at: Vec3, normal: Vec3): Flat => ({
  normals: [normal],
  offsets: [dot(normal, at)],
})

export function lineThrough(at: Vec3, direction: Vec3): Flat {
  const n = anySquareTo(direction)
  const m = cross(direction, n)
  return { normals: [n, m], offsets: [dot(n, at), dot(m, at)] }
}

/** The point of the flat nearest `p`. */
export function nearestOn(flat: Flat, p: Vec3): Vec3 {
  let out = p
  flat.normals.forEach((n, i) => {
    out = addScaled(out, n, flat.offsets[i]! - dot(n, p))
  })
  return out
}

/**
 * The point of the flat under a ray (unit direction): where it pierces a plane, what of a line comes nearest to it,
 * the point itself. Null where the ray runs along the plane or the line, or would meet it behind its origin.
 */
export function underRay(flat: Flat, origin: Vec3, direction: Vec3): Vec3 | null {
  if (flat.normals.length === 3) return nearestOn(flat, origin)
  if (flat.normals.length === 0) return null
  if (flat.normals.length === 1) {
    const fall = dot(flat.normals[0]!, direction)
    const t = (flat.offsets[0]! - dot(flat.normals[0]!, origin)) / fall
    return Math.abs(fall) < 0.02 || t < 0 ? null : addScaled(origin, direction, t)
  }
  const along = cross(flat.normals[0]!, flat.normals[1]!)
  const on = nearestOn(flat, origin)
  const cosine = dot(along, direction)
  const slack = 1 - cosine * cosine
  if (slack < 0.002) return null
  const w: Vec3 = [origin[0] - on[0], origin[1] - on[1], origin[2] - on[2]]
  const s = (dot(w, along) - cosine * dot(w, direction)) / slack
  return addScaled(on, along, s)
}
