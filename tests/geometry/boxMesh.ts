import { type TriangleTree, triangleTree } from '../../src/geometry/triangleTree.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'

/** The twelve triangles of a box with corners `low` and `high`. */
export function boxMesh(low: Vec3, high: Vec3): TriangleTree {
  const positions: number[] = []
  for (let i = 0; i < 8; i++)
    positions.push(i & 1 ? high[0] : low[0], i & 2 ? high[1] : low[1], i & 4 ? high[2] : low[2])
  // biome-ignore format: one face a line
  const indices = [
    0, 2, 1, 1, 2, 3,
    4, 5, 6, 5, 7, 6,
    0, 1, 4, 1, 5, 4,
    2, 6, 3, 3, 6, 7,
    0, 4, 2, 2, 4, 6,
    1, 3, 5, 3, 7, 5,
  ]
  return triangleTree(positions, indices)
}
