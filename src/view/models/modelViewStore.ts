import { createStore } from 'zustand/vanilla'

/** Parts of the branch that is looked at in a model's tree, to be lit in the picture; null for none. */
export const modelViewStore = createStore<{
  readonly branch: { readonly model: string; readonly keys: ReadonlySet<string> } | null
}>()(() => ({ branch: null }))
