import type { SkidDocument } from '../document/types.ts'
import { modelBodies } from '../skid/models/modelBodies.ts'
import { type ModelPartTree, treesKey } from '../skid/models/modelTypes.ts'
import type { MeshBody } from '../skid/parts.ts'
import { loadedOf, modelStore } from './modelStore.ts'

interface MeshBodies {
  readonly bodies: readonly MeshBody[]
  readonly missing: readonly string[]
}

const NONE: MeshBodies = { bodies: [], missing: [] }
/** A pointer over the picture asks at every move. */
let last: {
  models: SkidDocument['models']
  state: ReturnType<typeof modelStore.getState>
  answer: MeshBodies
} | null = null

/**
 * The parts of imported models to measure against, and the names of models whose file is not at hand; the same object
 * for as long as models and files are the same.
 */
export function meshBodiesOf(document: SkidDocument): MeshBodies {
  const { models } = document
  if (models.length === 0) return NONE
  const state = modelStore.getState()
  if (last?.models === models && last.state === state) return last.answer
  const trees = new Map<string, readonly ModelPartTree[]>()
  for (const model of models) {
    const loaded = loadedOf(state, model)
    if (loaded) trees.set(treesKey(model), loaded.trees)
  }
  const { bodies, missing } = modelBodies(document, trees)
  const answer = { bodies, missing: missing.map(m => m.name) }
  last = { models, state, answer }
  return answer
}
