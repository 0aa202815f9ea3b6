import type { TriangleTree } from './triangleTree.ts'
import type { Vec3 } from './vec3.ts'

export interface TreeHit {
  /** In lengths of `way` along the ray, ≥ 0. */
  readonly along: number
  /** Number of the triangle in the tree. */
  readonly triangle: number
}

/** A ray that runs along a triangle's very edge must not slip between it and its neighbour; parts of an edge. */
const ON_EDGE = 1e-9

/**
 * Where a ray first meets a triangle of the mesh, from either side; null when it meets none nearer than `within`
 * (in lengths of `way`).
 */
export function rayMeetsTree(
  tree: TriangleTree,
  from: Vec3,
  way: Vec3,
  within = Number.POSITIVE_INFINITY,
): TreeHit | null {
  const { boxes, child, first, count, order, corners } = tree
  let best = within
  let triangle = -1
  if (boxEntry(boxes, 0, from, way) >= best) return null
  const open: number[] = [0]
  const entries: number[] = [0]
  while (open.length > 0) {
    const node = open.pop()!
    if (entries.pop()! >= best) continue
    const down = child[node]!
    if (down === 0) {
      const start = first[node]!
      for (let i = start; i < start + count[node]!; i++) {
        const along = meetTriangle(corners, 9 * order[i]!, from, way)
        if (along < best) {
          best = along
          triangle = order[i]!
        }
      }
      continue
    }
    const a = boxEntry(boxes, 6 * down, from, way)
    const b = boxEntry(boxes, 6 * down + 6, from, way)
    // The nearer child is looked into first: what it gives spares most of the other.
    if (Math.max(a, b) < best) {
      open.push(a < b ? down + 1 : down)
      entries.push(Math.max(a, b))
    }
    if (Math.min(a, b) < best) {
      open.push(a < b ? down : down + 1)
      entries.push(Math.min(a, b))
    }
  }
  return triangle < 0 ? null : { along: best, triangle }
}

/** Where the ray enters the box, 0 when it starts inside, infinite when it misses. */
function boxEntry(boxes: Float64Array, at: number, from: Vec3, way: Vec3): number {
  let near = 0
  let far = Number.POSITIVE_INFINITY
  for (let k = 0; k < 3; k++) {
    const low = boxes[at + k]! - from[k]!
    const high = boxes[at + 3 + k]! - from[k]!
    const w = way[k]!
    if (w === 0) {
      if (low > 0 || high < 0) return Number.POSITIVE_INFINITY
      continue
    }
    const s = low / w
    const t = high / w
    near = Math.max(near, Math.min(s, t))
    far = Math.min(far, Math.max(s, t))
  }
  // Rounding must not lose a box of no thickness, as a flat plate has.
  return near <= far * (1 + 1e-12) + 1e-12 ? near : Number.POSITIVE_INFINITY
}

/** Möller and Trumbore (1997, from memory), both sides of the triangle; infinite when it is missed. */
function meetTriangle(c: Float64Array, at: number, from: Vec3, way: Vec3): number {
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
  if (u < -ON_EDGE || u > 1 + ON_EDGE) return Number.POSITIVE_INFINITY
  const qx = sy * ez - sz * ey
  const qy = sz * ex - sx * ez
  const qz = sx * ey - sy * ex
  const v = (way[0] * qx + way[1] * qy + way[2] * qz) / det
  if (v < -ON_EDGE || u + v > 1 + ON_EDGE) return Number.POSITIVE_INFINITY
  const along = (fx * qx + fy * qy + fz * qz) / det
  return along >= 0 ? along : Number.POSITIVE_INFINITY
}
