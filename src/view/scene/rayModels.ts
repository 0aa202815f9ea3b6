import { partOfModel } from '../../document/modelEdits.ts'
import type { Model, ModelKind, SkidDocument } from '../../document/types.ts'
import { rayMeetsTree } from '../../geometry/rayMeetsTree.ts'
import { triangleAt } from '../../geometry/triangleTree.ts'
import { addScaled, cross, dot, negate, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import type { ModelPartTree } from '../../skid/models/modelTypes.ts'
import { placedFrame } from '../../skid/models/placement.ts'
import type { SessionState } from '../../store/sessionStore.ts'
import type { Ray } from './cameraRig.ts'
import { isHidden } from './modelBuckets.ts'
import type { FaceHit } from './raySolid.ts'

export interface ModelHit extends FaceHit {
  readonly model: Model
  readonly key: string
  readonly names: readonly string[]
  readonly kind: ModelKind
}

interface Seen {
  readonly treesOf: (model: Model) => readonly ModelPartTree[]
  readonly hidden: ReadonlySet<string>
  readonly section: SessionState['section']
}

/** Where a ray (unit direction) first meets a part of a model that is drawn, and what the section leaves of it. */
export function rayMeetsModels(
  ray: Ray,
  document: SkidDocument,
  { treesOf, hidden, section }: Seen,
): ModelHit | null {
  const stretch = uncut(ray, section)
  if (!stretch) return null
  let best: { along: number; model: Model; part: ModelPartTree; triangle: number } | null = null
  let within = stretch.to - stretch.from
  for (const model of document.models) {
    if (hidden.has(model.id)) continue
    const { toModel } = placedFrame(model)
    const from = toModel(addScaled(ray.origin, ray.direction, stretch.from))
    const way = sub(toModel(addScaled(ray.origin, ray.direction, stretch.from + 1)), from)
    for (const part of treesOf(model)) {
      const hit = rayMeetsTree(part.tree, from, way, within)
      // Looked up only on a hit: of thousands of parts a ray meets a few.
      if (!hit || isHidden(hidden, model.id, part.key)) continue
      within = hit.along
      best = { along: stretch.from + hit.along, model, part, triangle: hit.triangle }
    }
  }
  if (!best) return null
  const { along, model, part, triangle } = best
  const { toSkid } = placedFrame(model)
  const [a, b, c] = triangleAt(part.tree, triangle).map(toSkid) as [Vec3, Vec3, Vec3]
  const normal = unit(cross(sub(b, a), sub(c, a))) ?? negate(ray.direction)
  return {
    along,
    point: addScaled(ray.origin, ray.direction, along),
    normal: dot(normal, ray.direction) > 0 ? negate(normal) : normal,
    model,
    key: part.key,
    names: part.names,
    kind: partOfModel(model, part.key).kind,
  }
}

/** The stretch of the ray that the section leaves, lengths along it; null when it cuts all of it away. */
function uncut(ray: Ray, section: SessionState['section']): { from: number; to: number } | null {
  const all = { from: 0, to: Number.POSITIVE_INFINITY }
  if (!section) return all
  const rise = dot(section.normal, ray.direction)
  const off = dot(section.normal, sub(ray.origin, section.at))
  if (rise === 0) return off > 0 ? null : all
  const at = -off / rise
  if (rise > 0) return at <= 0 ? null : { from: 0, to: at }
  return { from: Math.max(0, at), to: Number.POSITIVE_INFINITY }
}
