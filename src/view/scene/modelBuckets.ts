import type { Model, ModelKind } from '../../document/types.ts'
import { bodyId } from '../../skid/models/modelBodies.ts'
import type { DrawnPart, ModelDrawing } from '../../skid/models/modelDrawing.ts'

/** Parts of one kind that are drawn in one call. `indices` is the drawing's own array when that is all of them. */
export interface Bucket {
  readonly kind: ModelKind
  readonly indices: Uint32Array
  /** A text that is the same for the same parts. */
  readonly mark: string
}

/** Whether a part is drawn: it can be hidden by itself or with its model. */
export const isHidden = (hidden: ReadonlySet<string>, modelId: string, key: string): boolean =>
  hidden.has(modelId) || hidden.has(bodyId(modelId, key))

/** The corners of some parts, in one array. */
export function indicesOf({ indices }: ModelDrawing, parts: readonly DrawnPart[]): Uint32Array {
  const only = parts.length === 1 ? parts[0] : undefined
  if (only) return indices.subarray(only.from, only.from + only.count)
  const all = new Uint32Array(parts.reduce((n, p) => n + p.count, 0))
  let at = 0
  for (const { from, count } of parts) {
    all.set(indices.subarray(from, from + count), at)
    at += count
  }
  return all
}

/** What is drawn of a model: at most one bucket for each kind, however many parts are hidden. */
export function modelBuckets(model: Model, drawing: ModelDrawing, hidden: ReadonlySet<string>): Bucket[] {
  const own = new Map(model.parts.map(p => [p.key, p.kind]))
  const byKind = new Map<ModelKind, DrawnPart[]>()
  drawing.parts.forEach(part => {
    if (isHidden(hidden, model.id, part.key)) return
    const kind = own.get(part.key) ?? model.kind
    const known = byKind.get(kind)
    if (known) known.push(part)
    else byKind.set(kind, [part])
  })
  return [...byKind].map(([kind, parts]) => ({
    kind,
    indices: parts.length === drawing.parts.length ? drawing.indices : indicesOf(drawing, parts),
    mark: `${kind} ${parts.map(p => p.from).join(' ')}`,
  }))
}
