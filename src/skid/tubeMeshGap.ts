import { isInside } from '../geometry/insideMesh.ts'
import type { Swept } from '../geometry/swept.ts'
import type { Gap } from '../geometry/sweptGap.ts'
import { sweptMeshGap } from '../geometry/sweptMeshGap.ts'
import { boundsOfTree, type TriangleTree } from '../geometry/triangleTree.ts'
import type { PlacedTubes } from './models/placedTubes.ts'

/**
 * Least gap between a tube and an imported body below `limit`, or null; mm. A tube that touches nothing but lies
 * wholly inside a closed body overlaps it: its gap is minus the depth of its outside under the surface. An open mesh
 * has no inside, there the surface alone counts.
 */
export function tubeMeshGap(tube: Swept, mesh: TriangleTree, limit: number): Gap | null {
  const near = sweptMeshGap(tube, mesh, limit)
  if (near && near.gap <= 0) return near
  const [first] = tube.stretches
  const { low, high } = boundsOfTree(mesh)
  const at = first!.a
  if (at.some((x, k) => x < low[k]! || x > high[k]!) || isInside(mesh, at) !== true) return near
  const under = near ?? sweptMeshGap(tube, mesh, Infinity)
  return under && { ...under, gap: -(under.gap + 2 * tube.radius) }
}

/** The same for a body that stands somewhere: measured in the body's frame, nearest points on the skid. */
export function tubePlacedMeshGap(
  tube: Swept,
  { tree, placed }: { readonly tree: TriangleTree; readonly placed: PlacedTubes },
  limit: number,
): Gap | null {
  const { frame } = placed
  const gap = tubeMeshGap(placed.tube(tube), tree, limit)
  if (!gap || frame.same) return gap
  return { ...gap, pointA: frame.toSkid(gap.pointA), pointB: frame.toSkid(gap.pointB) }
}
