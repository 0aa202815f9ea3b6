import { bodyId } from '../../skid/models/modelBodies.ts'
import { sessionStore } from '../../store/sessionStore.ts'

/** How much of some parts is hidden. */
export function hiddenShare(
  hidden: ReadonlySet<string>,
  modelId: string,
  keys: readonly string[],
): 'none' | 'some' | 'all' {
  if (hidden.has(modelId)) return 'all'
  const n = keys.filter(key => hidden.has(bodyId(modelId, key))).length
  return n === 0 ? 'none' : n === keys.length ? 'all' : 'some'
}

/** Hides or shows parts of a model; `all` are the keys of all of its parts. Gives the new set. */
export function withHidden(
  hidden: ReadonlySet<string>,
  modelId: string,
  keys: readonly string[],
  all: readonly string[],
  hide: boolean,
): Set<string> {
  const next = new Set(hidden)
  if (next.delete(modelId)) for (const key of all) next.add(bodyId(modelId, key))
  for (const key of keys) {
    if (hide) next.add(bodyId(modelId, key))
    else next.delete(bodyId(modelId, key))
  }
  if (hide && keys.length === all.length) {
    for (const key of all) next.delete(bodyId(modelId, key))
    next.add(modelId)
  }
  return next
}

export function hideParts(
  modelId: string,
  keys: readonly string[],
  all: readonly string[],
  hide: boolean,
): void {
  const { hiddenBodies, set } = sessionStore.getState()
  set({ hiddenBodies: withHidden(hiddenBodies, modelId, keys, all, hide) })
}

/** Shows these parts and hides the model's others. */
export function showOnly(modelId: string, keys: readonly string[], all: readonly string[]): void {
  const { hiddenBodies, set } = sessionStore.getState()
  const none = withHidden(hiddenBodies, modelId, all, all, true)
  set({ hiddenBodies: withHidden(none, modelId, keys, all, false) })
}
