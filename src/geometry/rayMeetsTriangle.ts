import type { Vec3 } from './vec3.ts'

/**
 * Where a ray meets a triangle from either side, in lengths of `way`, ≥ 0; infinite when it misses. Möller and
 * Trumbore (1997, from memory).
 *
 * @param c corner coordinates; the triangle's nine begin at `at`.
 * @param onEdge how far beside an edge still counts, in parts of the edge.
 */
export function rayMeetsTriangle(c: Float64Array, at: number, from: Vec3, way: Vec3, onEdge: number): number {
  const ex = c[at + 3]! - c[at]!
  const ey = c[at + 4]! - c[at + 1]!
  const ez = c[at + 5]! - c[at + 2]!
  const fx = c[at + 6]! - c[at]!
  const fy = c[at + 7]! - c[at + 1]!
  const fz = c[at + 8]! - c[at + 2]!
  const hx = way[1] * fz - way[2] * fy
  const hy = way[2] * fx - way[0] * fz
  const hz = way[0] * fy - way[1] * fx
  const det = ex * hx + ey * hy + ez * hz
  if (det === 0) return Number.POSITIVE_INFINITY
  const sx = from[0] - c[at]!
  const sy = from[1] - c[at + 1]!
  const sz = from[2] - c[at + 2]!
  const u = (sx * hx + sy * hy + sz * hz) / det
  if (u < -onEdge || u > 1 + onEdge) return Number.POSITIVE_INFINITY
  const qx = sy * ez - sz * ey
  const qy = sz * ex - sx * ez
  const qz = sx * ey - sy * ex
  const v = (way[0] * qx + way[1] * qy + way[2] * qz) / det
  if (v < -onEdge || u + v > 1 + onEdge) return Number.POSITIVE_INFINITY
  const along = (fx * qx + fy * qy + fz * qz) / det
  return along >= 0 ? along : Number.POSITIVE_INFINITY
}
