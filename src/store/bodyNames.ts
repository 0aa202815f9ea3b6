import type { Model, SkidDocument } from '../document/types.ts'
import { bodyId, bodyName } from '../skid/models/modelBodies.ts'
import { loadedOf, modelStore } from './modelStore.ts'

/** The model that an id `model/key` (or the model's own) belongs to, and the part's key; null when it is no model's. */
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

/** What a part is called: as its file names it, else by the last piece of its key. */
export function partName(model: Model, key: string): string {
  const part = loadedOf(modelStore.getState(), model)?.drawing.parts.find(p => p.key === key)
  return part?.names.at(-1) ?? key.slice(key.lastIndexOf('/') + 1)
}

/** What a model or a part of one is called in lists and sentences; null when the id is no model's. */
export function nameOfBody(document: SkidDocument, id: string): string | null {
  const found = modelPartOf(document, id)
  if (!found) return null
  return found.key === null ? found.model.name : bodyName(found.model, [partName(found.model, found.key)])
}
