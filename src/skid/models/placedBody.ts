import type { Bounds } from '../../geometry/boxTree.ts'
import { boundsOfTree, type TriangleTree } from '../../geometry/triangleTree.ts'
import { type MeshBody, type MeshPart, meshKey } from '../parts.ts'
import { type PlacedTubes, placedTubes } from './placedTubes.ts'
import { placedBounds } from './placement.ts'

/** A body where it stands: its triangles in the model's own frame. Bounds on the skid. */
export interface PlacedBody extends Bounds {
  readonly id: string
  readonly tree: TriangleTree
  readonly placed: PlacedTubes
}

export function placedBody(body: MeshBody): MeshPart {
  const { id, fitting, tree, placement = { at: [0, 0, 0], turn: [0, 0, 0] } } = body
  const placed = placedTubes(placement)
  const bounds = placedBounds(boundsOfTree(tree), placed.frame)
  return { kind: 'mesh', key: meshKey(id), id, fitting, tree, placed, ...bounds }
}
