import type { SegmentEnds, SegmentPair } from './segments.ts'
import { nearestOnTriangle, type SegmentTriangle } from './segmentTriangle.ts'
import type { TriangleTree } from './triangleTree.ts'
import type { Vec3 } from './vec3.ts'

/** The place of a mesh's surface nearest to a point. */
export interface NearestPlace {
  /** Number of the triangle in the tree. */
  readonly triangle: number
  readonly point: Vec3
  /** mm ≥ 0 */
  readonly distance: number
}

/** The place of the mesh nearest to `p` and nearer than `limit` mm; null when there is none. */
export function nearestOnTree(mesh: TriangleTree, p: Vec3, limit: number): NearestPlace | null {
  const { boxes, child, first, count, order, corners } = mesh
  const here: SegmentEnds = { ax: p[0], ay: p[1], az: p[2], bx: p[0], by: p[1], bz: p[2] }
  const pair: SegmentPair = { u: 0, v: 0, distance: 0 }
  const spot: SegmentTriangle = { u: 0, x: 0, y: 0, z: 0, distance: 0 }
  let best: NearestPlace | null = null
  let least = limit
  const open: number[] = [0]
  const keys: number[] = [boxApart(boxes, 0, p)]
  while (open.length > 0) {
    const node = open.pop()!
    if (keys.pop()! >= least) continue
    const down = child[node]!
    if (down === 0) {
      for (let k = first[node]!; k < first[node]! + count[node]!; k++)
        if (nearestOnTriangle(here, corners, 9 * order[k]!, least, pair, spot)) {
          least = spot.distance
          best = { triangle: order[k]!, point: [spot.x, spot.y, spot.z], distance: least }
        }
      continue
    }
    const a = boxApart(boxes, 6 * down, p)
    const b = boxApart(boxes, 6 * down + 6, p)
    // The nearer one is looked into first: what it gives spares most of the other.
    open.push(a < b ? down + 1 : down, a < b ? down : down + 1)
    keys.push(Math.max(a, b), Math.min(a, b))
  }
  return best
}

function boxApart(boxes: Float64Array, at: number, p: Vec3): number {
  const x = Math.max(boxes[at]! - p[0], p[0] - boxes[at + 3]!, 0)
  const y = Math.max(boxes[at + 1]! - p[1], p[1] - boxes[at + 4]!, 0)
  const z = Math.max(boxes[at + 2]! - p[2], p[2] - boxes[at + 5]!, 0)
  return Math.sqrt(x * x + y * y + z * z)
}
