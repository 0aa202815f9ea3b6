import type { SkidDocument } from '../document/types.ts'
import { modelBodies } from '../skid/models/modelBodies.ts'
import { type ModelPartTree, treesKey } from '../skid/models/modelTypes.ts'
import type { MeshBody } from '../skid/parts.ts'
import { loadedOf, modelStore } from './modelStore.ts'

/** The parts of imported models to measure against, and the names of models whose file is not at hand. */
export function meshBodiesOf(document: SkidDocument): {
  readonly bodies: readonly MeshBody[]
  readonly missing: readonly string[]
} {
  if (document.models.length === 0) return { bodies: [], missing: [] }
  const trees = new Map<string, readonly ModelPartTree[]>()
  const state = modelStore.getState()
  for (const model of document.models) {
    const loaded = loadedOf(state, model)
    if (loaded) trees.set(treesKey(model), loaded.trees)
  }
  const { bodies, missing } = modelBodies(document, trees)
  return { bodies, missing: missing.map(m => m.name) }
}
