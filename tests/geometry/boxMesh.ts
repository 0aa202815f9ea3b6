import { type TriangleTree, triangleTree } from '../../src/geometry/triangleTree.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'

// biome-ignore format: one face a line
export const BOX_FACES = [
  0, 2, 1, 1, 2, 3,
  4, 5, 6, 5, 7, 6,
  0, 1, 4, 1, 5, 4,
  2, 6, 3, 3, 6, 7,
  0, 4, 2, 2, 4, 6,
  1, 3, 5, 3, 7, 5,
]

/** Coordinates of the eight corners that {@link BOX_FACES} counts. */
export const boxCorners = (low: Vec3, high: Vec3): number[] =>
  Array.from({ length: 8 }, (_, i) => [
    i & 1 ? high[0] : low[0],
    i & 2 ? high[1] : low[1],
    i & 4 ? high[2] : low[2],
  ]).flat()

/** The twelve triangles of a box with corners `low` and `high`. */
export const boxMesh = (low: Vec3, high: Vec3): TriangleTree => triangleTree(boxCorners(low, high), BOX_FACES)
