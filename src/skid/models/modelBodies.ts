import type { Model, SkidDocument } from '../../document/types.ts'
import type { MeshBody } from '../parts.ts'
import { type ModelPartTree, treesKey } from './modelTypes.ts'

/** The trees of every file at hand, by `treesKey`. */
export type ModelTrees = ReadonlyMap<string, readonly ModelPartTree[]>

/** What the models of a document are to the clearance check. */
export interface ModelBodies {
  /** One for each part that is measured; its id is the model's id, `/` and the part's key. */
  readonly bodies: readonly MeshBody[]
  /** Models with something to measure whose file is not at hand. */
  readonly missing: readonly Model[]
  /** Parts left out by choice, and how many the file has: null when that is not known because it is missing. */
  readonly leftOut: readonly { readonly model: Model; readonly count: number; readonly of: number | null }[]
  /** Parts that the document says something about and the file does not have. */
  readonly unknown: readonly { readonly model: Model; readonly key: string }[]
}

export const bodyId = (modelId: string, key: string): string => `${modelId}/${key}`

/** What the part is called in lists and sentences: the model's name, then its own. */
export const bodyName = (model: Model, names: readonly string[]): string =>
  `${model.name}: ${names[names.length - 1] ?? ''}`

/** The parts of the document's models as bodies where they stand, and what could not be had of them. */
export function modelBodies(document: SkidDocument, trees: ModelTrees): ModelBodies {
  const bodies: MeshBody[] = []
  const missing: Model[] = []
  const leftOut: { model: Model; count: number; of: number | null }[] = []
  const unknown: { model: Model; key: string }[] = []
  for (const model of document.models) {
    const parts = trees.get(treesKey(model))
    if (!parts) {
      const nothing = model.kind === 'leftOut' && model.parts.every(p => p.kind === 'leftOut')
      if (nothing) leftOut.push({ model, count: 0, of: null })
      else missing.push(model)
      continue
    }
    const said = new Map(model.parts.map(p => [p.key, p]))
    const placement = { at: model.at, turn: model.turn }
    let out = 0
    for (const { key, names, tree } of parts) {
      const { kind, fitting } = said.get(key) ?? model
      said.delete(key)
      if (kind === 'leftOut') out++
      else
        bodies.push({
          id: bodyId(model.id, key),
          name: bodyName(model, names),
          kind,
          fitting,
          tree,
          placement,
        })
    }
    if (out > 0) leftOut.push({ model, count: out, of: parts.length })
    for (const key of said.keys()) unknown.push({ model, key })
  }
  return { bodies, missing, leftOut, unknown }
}
