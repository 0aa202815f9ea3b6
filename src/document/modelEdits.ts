import { freshId } from './edits.ts'
import type { Model, ModelPart, SkidDocument } from './types.ts'

/** What the file of a model is known by, and how its figures are to be read. */
export type ModelFile = Pick<Model, 'fileName' | 'hash' | 'bytes' | 'format' | 'unitMm' | 'up'>

/** A model at the origin, not turned, with nothing different about any part. Gives the document and the model's id. */
export function addModel(
  document: SkidDocument,
  { name, kind, ...file }: ModelFile & Pick<Model, 'name' | 'kind'>,
): { document: SkidDocument; modelId: string } {
  const modelId = freshId(
    'm',
    document.models.map(m => m.id),
  )
  const model: Model = {
    id: modelId,
    name,
    ...file,
    at: [0, 0, 0],
    turn: [0, 0, 0],
    kind,
    fitting: null,
    parts: [],
  }
  return { document: { ...document, models: [...document.models, model] }, modelId }
}

/** @throws RangeError when the document has no such model. */
export function editModel(document: SkidDocument, id: string, edit: (model: Model) => Model): SkidDocument {
  let found = false
  let same = true
  const models = document.models.map(model => {
    if (model.id !== id) return model
    found = true
    const next = edit(model)
    same &&= next === model
    return next
  })
  if (!found) throw new RangeError(`editModel: the document has no model "${id}"`)
  return same ? document : { ...document, models }
}

export const removeModel = (document: SkidDocument, id: string): SkidDocument => ({
  ...document,
  models: document.models.filter(m => m.id !== id),
})

/** Another file in the place of the model's own: place, turn, kinds and what was said about its parts stay, by key. */
export const replaceModelFile = (document: SkidDocument, id: string, file: ModelFile): SkidDocument =>
  editModel(document, id, model => ({ ...model, ...file }))

/** What a part is to the check: its own exception, else what the whole model is. */
export function partOfModel(model: Model, key: string): ModelPart {
  return model.parts.find(p => p.key === key) ?? { key, kind: model.kind, fitting: model.fitting }
}

/** Says something else about some parts. A part that is then like the whole model is no exception any more. */
export const editModelParts = (
  document: SkidDocument,
  id: string,
  keys: readonly string[],
  patch: Partial<Pick<ModelPart, 'kind' | 'fitting'>>,
): SkidDocument =>
  editModel(document, id, model => {
    const wanted = new Set(keys)
    const own = new Map(model.parts.map(p => [p.key, p]))
    for (const key of wanted)
      own.set(key, { ...(own.get(key) ?? { key, kind: model.kind, fitting: model.fitting }), ...patch })
    const parts = [...own.values()].filter(
      p => !wanted.has(p.key) || p.kind !== model.kind || p.fitting !== model.fitting,
    )
    const same =
      parts.length === model.parts.length &&
      parts.every((p, i) => {
        const before = model.parts[i]!
        return p.key === before.key && p.kind === before.kind && p.fitting === before.fitting
      })
    return same ? model : { ...model, parts }
  })
