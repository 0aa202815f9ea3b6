import type { Model, SkidDocument } from '../../document/types.ts'
import { bodyId, bodyName } from './modelBodies.ts'

/** The model that an id `model/key` (or the model's own) is of, and the part's key; null when it is no model's. */
export function modelPartOf(
  document: SkidDocument,
  id: string,
): { readonly model: Model; readonly key: string | null } | null {
  for (const model of document.models) {
    if (id === model.id) return { model, key: null }
    const stem = bodyId(model.id, '')
    if (id.startsWith(stem)) return { model, key: id.slice(stem.length) }
  }
  return null
}

/** A part's own name, out of its key: known even while its file is not. */
export function nameInKey(key: string): string {
  const last = key.slice(key.lastIndexOf('/') + 1).replace(/#\d+$/, '')
  return last.replace(/%([0-9A-F]{2})/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)))
}

/** What a model or a part of one is called in lists and sentences; null when the id is no model's. */
export function nameOfBody(document: SkidDocument, id: string): string | null {
  const found = modelPartOf(document, id)
  if (!found) return null
  return found.key === null ? found.model.name : bodyName(found.model, [nameInKey(found.key)])
}
