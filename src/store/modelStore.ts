import { createStore } from 'zustand/vanilla'
import type { Model } from '../document/types.ts'
import { treesKey } from '../skid/models/modelTypes.ts'
import type { LoadedParts, Progress } from './modelReader.ts'

/** A file in a unit and axis, read: to draw, to point at, to measure against. */
export interface LoadedModel extends LoadedParts {
  readonly notes: readonly string[]
}

export type ModelState =
  | { readonly kind: 'loading'; readonly progress: Progress }
  | { readonly kind: 'ready'; readonly loaded: LoadedModel }
  /** This browser does not have the file. */
  | { readonly kind: 'missing' }
  /** The file is there and cannot be read as the document says. */
  | { readonly kind: 'refused'; readonly reason: string }

export interface ModelsState {
  /** By `treesKey`: models of one file in one unit and axis share what was read. */
  readonly states: ReadonlyMap<string, ModelState>
  /** By hash, why the browser does not keep a file: it lasts as long as the page. */
  readonly unkept: ReadonlyMap<string, string>
}

export const modelStore = createStore<ModelsState>()(() => ({ states: new Map(), unkept: new Map() }))

const WAITING: ModelState = { kind: 'loading', progress: { stage: 'Waiting', done: null } }

/** How a model of the document stands. */
export const stateOfModel = ({ states }: ModelsState, model: Model): ModelState =>
  states.get(treesKey(model)) ?? WAITING

/** What was read of a model, or null while it is not there. */
export function loadedOf(state: ModelsState, model: Model): LoadedModel | null {
  const own = state.states.get(treesKey(model))
  return own?.kind === 'ready' ? own.loaded : null
}

export function putModelState(key: string, state: ModelState): void {
  const states = new Map(modelStore.getState().states)
  states.set(key, state)
  modelStore.setState({ states })
}

/** Forgets what is not in `wanted`: another document was opened. */
export function forgetModels(wanted: ReadonlySet<string>): void {
  const { states } = modelStore.getState()
  const left = new Map([...states].filter(([key]) => wanted.has(key)))
  if (left.size !== states.size) modelStore.setState({ states: left })
}
