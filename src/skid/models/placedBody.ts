import type { Bounds } from '../../geometry/boxTree.ts'
import { boundsOfTree, type TriangleTree } from '../../geometry/triangleTree.ts'
import type { MeshBody } from '../parts.ts'
import { type PlacedTubes, placedTubes } from './placedTubes.ts'
import { placedBounds } from './placement.ts'

/** A body where it stands: its triangles in the model's own frame. Bounds on the skid. */
export interface PlacedBody extends Bounds {
  readonly id: string
  readonly tree: TriangleTree
  readonly placed: PlacedTubes
}

export function placedBody({
  id,
  tree,
  placement = { at: [0, 0, 0], turn: [0, 0, 0] },
}: MeshBody): PlacedBody {
  const placed = placedTubes(placement)
  return { id, tree, placed, ...placedBounds(boundsOfTree(tree), placed.frame) }
}
