import type { Model } from '../document/types.ts'
import { type ModelPartTree, treesKey } from '../skid/models/modelTypes.ts'
import { documentStore } from './documentStore.ts'
import { modelFileOf } from './modelFiles.ts'
import { type Reading, readModelFile } from './modelReader.ts'
import { type ModelState, modelStore } from './modelStore.ts'

/** What is at hand of one model file in a unit and axis. */
export type EarlierModel = { readonly key: string } & (
  | { readonly parts: readonly ModelPartTree[] }
  /** Why not, to go behind the file's name; '' that it is not at hand. */
  | { readonly why: string }
)

/**
 * The parts of the files that another version of the document names, one file after the other: those of the open
 * document as they were read for it, others as this browser keeps them. `signal` stops the reading at once; what is
 * given then is of no use.
 */
export async function* earlierModels(
  models: readonly Model[],
  signal: AbortSignal,
): AsyncGenerator<EarlierModel, void, void> {
  const wanted = new Map(models.map(m => [treesKey(m), m]))
  for (const [key, model] of wanted) {
    const open = await settledState(key)
    if (open?.kind === 'ready') yield { key, parts: open.loaded.trees }
    else if (open?.kind === 'refused') yield { key, why: `cannot be read (${open.reason})` }
    else yield await kept(key, model, signal)
  }
}

/**
 * The open document's state of a file, waited for while it is being read or is to be; undefined when the document has
 * no such model.
 */
function settledState(key: string): Promise<ModelState | undefined> {
  return new Promise(done => {
    let answered = false
    const look = () => {
      const state = modelStore.getState().states.get(key)
      const { models } = documentStore.getState().settled
      const awaited = state ? state.kind === 'loading' : models.some(m => treesKey(m) === key)
      if (answered || awaited) return
      answered = true
      for (const stop of stops) stop()
      done(state)
    }
    const stops = [modelStore.subscribe(look), documentStore.subscribe(look)]
    look()
  })
}

async function kept(key: string, model: Model, signal: AbortSignal): Promise<EarlierModel> {
  let reading: Reading | null = null
  // What an ended reading was asked for never comes.
  const left = new Promise<never>((_, fail) => {
    signal.addEventListener('abort', () => fail(new Error('left')), { once: true })
  })
  left.catch(() => {})
  try {
    const file = await modelFileOf(model.hash)
    if (!file) return { key, why: '' }
    reading = readModelFile(file, model.fileName, () => {})
    const { hash } = await Promise.race([reading.file, left])
    if (hash !== model.hash) return { key, why: 'is damaged in this browser’s storage' }
    const { trees } = await Promise.race([reading.load(model.unitMm, model.up), left])
    return { key, parts: trees }
  } catch (error) {
    return { key, why: `cannot be read (${error instanceof Error ? error.message : String(error)})` }
  } finally {
    reading?.end()
  }
}
