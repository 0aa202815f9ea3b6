import { isInside } from './insideMesh.ts'
import type { RigidMap } from './meshMeshGap.ts'
import type { TriangleTree } from './triangleTree.ts'
import { addScaled, type Vec3 } from './vec3.ts'

/**
 * A point of B's surface that lies inside A, in A's frame, or null when there is none. The surfaces must not meet:
 * then what hangs together is wholly in or wholly out, and so is all that lies in a box without any of A's surface.
 * An open mesh has no inside.
 */
export function pointInMesh(A: TriangleTree, B: TriangleTree, bToA: RigidMap): Vec3 | null {
  const toA = ([x, y, z]: Vec3): Vec3 =>
    addScaled(addScaled(addScaled(bToA.at, bToA.axes[0], x), bToA.axes[1], y), bToA.axes[2], z)
  /** Corners known to lie outside: what shares one with them does, too. */
  const outside = new Set<string>()
  const cornerAt = (at: number): Vec3 => [B.corners[at]!, B.corners[at + 1]!, B.corners[at + 2]!]
  const insideAt = (corner: number): Vec3 | null => {
    const p = toA(cornerAt(corner))
    return isInside(A, p) === true ? p : null
  }
  const open = [0]
  while (open.length > 0) {
    const node = open.pop()!
    const { low, high } = boxInA(B, node, bToA)
    const touch = meetsBox(A, low, high)
    if (touch === 'clear of the whole') continue
    if (touch === 'no surface') {
      const found = insideAt(9 * B.order[B.first[node]!]!)
      if (found) return found
      continue
    }
    const down = B.child[node]!
    if (down !== 0) {
      open.push(down, down + 1)
      continue
    }
    for (let k = 0; k < B.count[node]!; k++) {
      const at = 9 * B.order[B.first[node]! + k]!
      const own = [at, at + 3, at + 6].map(c => cornerAt(c).join(' '))
      if (!own.some(c => outside.has(c))) {
        const found = insideAt(at)
        if (found) return found
      }
      for (const c of own) outside.add(c)
    }
  }
  return null
}

function boxInA({ boxes }: TriangleTree, node: number, { at, axes }: RigidMap): { low: Vec3; high: Vec3 } {
  const low: [number, number, number] = [...at]
  const high: [number, number, number] = [...at]
  for (let j = 0; j < 3; j++)
    for (let k = 0; k < 3; k++) {
      const p = axes[j]![k]! * boxes[6 * node + j]!
      const q = axes[j]![k]! * boxes[6 * node + 3 + j]!
      low[k]! += Math.min(p, q)
      high[k]! += Math.max(p, q)
    }
  return { low, high }
}

/** Whether any box with triangles of the mesh meets this one, or the mesh is nowhere near it. */
function meetsBox(
  mesh: TriangleTree,
  low: Vec3,
  high: Vec3,
): 'surface' | 'no surface' | 'clear of the whole' {
  const { boxes, child } = mesh
  const meets = (node: number) => {
    for (let k = 0; k < 3; k++)
      if (boxes[6 * node + k]! > high[k]! || boxes[6 * node + 3 + k]! < low[k]!) return false
    return true
  }
  if (!meets(0)) return 'clear of the whole'
  const open = [0]
  while (open.length > 0) {
    const node = open.pop()!
    if (!meets(node)) continue
    if (child[node] === 0) return 'surface'
    open.push(child[node]!, child[node]! + 1)
  }
  return 'no surface'
}
