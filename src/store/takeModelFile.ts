import type { Model } from '../document/types.ts'
import { modelHash } from '../skid/models/modelHash.ts'
import { keepModelFile } from './modelFiles.ts'
import { modelStore } from './modelStore.ts'
import { retryModel } from './models.ts'

/** Keeps a file's bytes, and remembers when the browser would not. Null, or the reason. */
export async function takeModelFile(hash: string, file: File): Promise<string | null> {
  const reason = await keepModelFile(hash, file.name, file)
  const unkept = new Map(modelStore.getState().unkept)
  if (reason === null) unkept.delete(hash)
  else unkept.set(hash, reason)
  modelStore.setState({ unkept })
  return reason
}

export type Given =
  | { readonly kind: 'taken'; readonly notKept: string | null }
  /** It is another file than the document was made with. */
  | { readonly kind: 'other' }
  | { readonly kind: 'unreadable'; readonly reason: string }

/** Takes a file that a person gives for a model whose own is missing: only the very same bytes will do. */
export async function giveModelFile(model: Model, file: File): Promise<Given> {
  try {
    if (file.size !== model.bytes) return { kind: 'other' }
    const hash = await modelHash(new Uint8Array(await file.arrayBuffer()))
    if (hash !== model.hash) return { kind: 'other' }
  } catch (error) {
    return { kind: 'unreadable', reason: error instanceof Error ? error.message : String(error) }
  }
  const notKept = await takeModelFile(model.hash, file)
  retryModel(model.hash)
  return { kind: 'taken', notKept }
}
