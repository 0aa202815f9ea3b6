import { partOfModel } from '../../document/modelEdits.ts'
import type { Model, SkidDocument, Solid } from '../../document/types.ts'
import { nearestOnTree } from '../../geometry/nearestOnTree.ts'
import { triangleAt } from '../../geometry/triangleTree.ts'
import { addScaled, cross, distance, dot, negate, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import { bodyName } from '../../skid/models/modelBodies.ts'
import type { ModelPartTree } from '../../skid/models/modelTypes.ts'
import { type PlacedFrame, placedFrame } from '../../skid/models/placement.ts'
import { shapeOfSolid } from '../../skid/solidShape.ts'
import { isCutAway, type Section } from './cut.ts'
import { type Flat, meet, nearestOn, planeThrough } from './flat.ts'
import { isHidden } from './modelBuckets.ts'
import type { SnapTarget } from './snapTargets.ts'

export interface Surfaces {
  readonly document: SkidDocument
  readonly treesOf: (model: Model) => readonly ModelPartTree[]
  readonly hidden: ReadonlySet<string>
  readonly section: Section | null
}

/** The surface nearest to a place, and which way is out of it (unit). */
interface Face {
  readonly name: string
  readonly point: Vec3
  readonly normal: Vec3
}

/** On a round thing the face under the snapped place is another than before; it settles in a few rounds. */
const ROUNDS = 6
const SETTLED_MM = 1e-6

/** What a dragged point may rest on: one target, or none when no surface is within reach. */
export type SurfaceSnaps = (
  p: Vec3,
  /** Where the point may be. */
  flat: Flat,
  /** OD of the tube, mm. */
  od: number,
  /** How far it may be pulled, mm. */
  reach: number,
  /** From the eye into the picture, unit. */
  view: Vec3,
) => SnapTarget[]

/**
 * Surfaces that a dragged point may rest on besides the flat faces of boxes and planes: drums, balls and parts of
 * models, as placing has it. The target is the plane that touches the surface nearest to the point, half the OD off it,
 * on the side that is seen. What is hidden or cut away is as at the call.
 */
export function surfaceSnaps(surfaces: Surfaces): SurfaceSnaps {
  const nearestFace = faces(surfaces)
  return (p, flat, od, reach, view) => {
    const faceAt = (place: Vec3) => nearestFace(place, od / 2 + reach, view)
    let face = faceAt(p)
    if (!face) return []
    let plane = planeOn(face, od)
    let at: Vec3 | null = null
    for (let round = 0; round < ROUNDS; round++) {
      const both = meet(flat, plane)
      const pulled = both && nearestOn(both, p)
      if (!pulled || distance(pulled, p) > reach) return []
      if (at && distance(at, pulled) <= SETTLED_MM) break
      at = pulled
      face = faceAt(pulled) ?? face
      plane = planeOn(face, od)
    }
    const { name, normal } = face
    return [{ name: `on a face of ${name}`, flat: () => plane, from: to => addScaled(to, normal, -od / 2) }]
  }
}

const planeOn = ({ point, normal }: Face, od: number) =>
  planeThrough(addScaled(point, normal, od / 2), normal)

/** What a run is placed on: a floor has its own snap, and nobody puts a tube on a space to keep free. */
const isRest = (kind: string) => kind !== 'floor' && kind !== 'keepOut'

function faces({ document, treesOf, hidden, section }: Surfaces) {
  const round = document.solids.filter(
    s => (s.shape === 'cylinder' || s.shape === 'sphere') && isRest(s.kind) && !hidden.has(s.id),
  )
  const models = document.models
    .filter(m => !hidden.has(m.id))
    .map(model => ({ model, frame: placedFrame(model), parts: partsShown(model, treesOf(model), hidden) }))
  return (p: Vec3, limit: number, view: Vec3): Face | null => {
    let best: Face | null = null
    let least = limit
    for (const solid of round) {
      const face = faceOfSolid(solid, p)
      const off = face ? distance(face.point, p) : Infinity
      if (!face || off >= least || isCutAway(section, face.point)) continue
      least = off
      best = face
    }
    for (const { model, frame, parts } of models) {
      const own = frame.toModel(p)
      for (const part of parts) {
        const found = nearestOnTree(part.tree, own, least)
        const point = found && frame.toSkid(found.point)
        if (!found || !point || isCutAway(section, point)) continue
        const normal = normalOf(part, found.triangle, frame, view)
        if (!normal) continue
        least = found.distance
        best = { name: bodyName(model, part.names), point, normal }
      }
    }
    return best
  }
}

const partsShown = (model: Model, parts: readonly ModelPartTree[], hidden: ReadonlySet<string>) =>
  parts.filter(part => !isHidden(hidden, model.id, part.key) && isRest(partOfModel(model, part.key).kind))

/** Out of the solid, as its signed distance has it: beside a rim it leans. */
function faceOfSolid(solid: Solid, p: Vec3): Face | null {
  try {
    const { value, gradient } = shapeOfSolid(solid).signedDistance(p)
    return { name: solid.name, point: addScaled(p, gradient, -value), normal: gradient }
  } catch (error) {
    // What has no shape is told of elsewhere; here there is nothing to rest on.
    if (error instanceof RangeError) return null
    throw error
  }
}

/** Square to the triangle, towards the eye; null for a triangle without area. */
function normalOf(part: ModelPartTree, triangle: number, frame: PlacedFrame, view: Vec3): Vec3 | null {
  const [a, b, c] = triangleAt(part.tree, triangle).map(frame.toSkid) as [Vec3, Vec3, Vec3]
  const normal = unit(cross(sub(b, a), sub(c, a)))
  return normal && (dot(normal, view) > 0 ? negate(normal) : normal)
}
