import type { Model, SkidDocument } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import type { DrawnPart } from '../../skid/models/modelDrawing.ts'
import { placedFrame } from '../../skid/models/placement.ts'
import { loadedOf, modelStore } from '../../store/modelStore.ts'
import { isHidden } from './modelBuckets.ts'

/** Points on the skid that hold all of the models' parts that are drawn, mm. */
export const modelPoints = (document: SkidDocument, hidden: ReadonlySet<string>): Vec3[] =>
  document.models.flatMap(model => cornersOf(model, part => !isHidden(hidden, model.id, part.key)))

/** Points that hold a model, or one part of it; null while it is not read, or when it has no such part. */
export function pointsOfModel(document: SkidDocument, id: string, key: string | null): Vec3[] | null {
  const model = document.models.find(m => m.id === id)
  const points = model ? cornersOf(model, part => key === null || part.key === key) : []
  return points.length > 0 ? points : null
}

/** The eight corners of the box, in the model's frame, of the parts that are wanted; none when there are none. */
function cornersOf(model: Model, isWanted: (part: DrawnPart) => boolean): Vec3[] {
  const loaded = loadedOf(modelStore.getState(), model)
  const parts = loaded?.drawing.parts.filter(isWanted) ?? []
  if (parts.length === 0) return []
  const low = [0, 1, 2].map(k => parts.reduce((least, p) => Math.min(least, p.low[k]!), Infinity))
  const high = [0, 1, 2].map(k => parts.reduce((most, p) => Math.max(most, p.high[k]!), -Infinity))
  const { toSkid } = placedFrame(model)
  return Array.from({ length: 8 }, (_, i) =>
    toSkid([i & 1 ? high[0]! : low[0]!, i & 2 ? high[1]! : low[1]!, i & 4 ? high[2]! : low[2]!]),
  )
}
