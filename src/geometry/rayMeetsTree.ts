import { rayMeetsTriangle } from './rayMeetsTriangle.ts'
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
        const along = rayMeetsTriangle(corners, 9 * order[i]!, from, way, ON_EDGE)
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
