import { boundsMeet } from '../geometry/boxTree.ts'
import { nearestOnTree } from '../geometry/nearestOnTree.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import type { MeshPart, SolidPart } from './parts.ts'
import type { Stub } from './stubs.ts'

/** Distance of a point from a body's outside, mm: negative inside a solid; of a model's part from its surface alone. */
export function fromBody(body: SolidPart | MeshPart, p: Vec3, limit = Infinity): number {
  if (body.kind === 'solid') return body.shape.signedDistance(p).value
  const near = nearestOnTree(body.tree, body.placed.frame.toModel(p), limit)
  return near ? near.distance : limit
}

/** Whether a body is the one that a port stands on: because the document says so, or because its face is in its surface. */
export function carries(
  body: SolidPart | MeshPart,
  stub: Pick<Stub, 'fitting' | 'face' | 'within'>,
): boolean {
  if (body.fitting === stub.fitting) return true
  const { face, within } = stub
  if (!boundsMeet(body, { low: face, high: face }, within)) return false
  return Math.abs(fromBody(body, face, 2 * within)) <= within
}
