import type { DBSchema } from 'idb'
import { whyNotKept } from './browserMemory.ts'
import { reopening } from './reopening.ts'
import { askForPromise } from './storagePromise.ts'

/** A model's file as this browser keeps it, known by its content. */
export interface ModelFileEntry {
  /** SHA-256 of the bytes, lower-case hexadecimal. */
  readonly hash: string
  readonly fileName: string
  readonly bytes: number
  /** Milliseconds since 1970. */
  readonly keptAt: number
}
interface Kept extends ModelFileEntry {
  readonly data: Blob
}
interface Schema extends DBSchema {
  files: { key: string; value: Kept }
}

/** Files that the browser would not keep, or has not kept yet: they last as long as the page. */
const inMemory = new Map<string, Blob>()
const database = reopening<Schema>('dogleg-models', db => {
  db.createObjectStore('files', { keyPath: 'hash' })
})

/** Null when the bytes are kept, else why the browser does not keep them: they are then in memory only. */
export async function keepModelFile(hash: string, fileName: string, data: Blob): Promise<string | null> {
  inMemory.set(hash, data)
  try {
    const db = await database()
    if ((await db.getKey('files', hash)) === undefined)
      await db.put('files', { hash, fileName, bytes: data.size, keptAt: Date.now(), data })
    inMemory.delete(hash)
    // A promise by the browser not to clear this when the disk runs short; it may say no.
    void askForPromise()
    return null
  } catch (error) {
    return whyNotKept(error)
  }
}

/** The bytes of a file by its content, or null when this browser does not have them (or refuses its storage). */
export async function modelFileOf(hash: string): Promise<Blob | null> {
  const held = inMemory.get(hash)
  if (held) return held
  try {
    return (await (await database()).get('files', hash))?.data ?? null
  } catch {
    return null
  }
}

/** All kept files, newest first. @throws when the browser refuses storage. */
export async function listModelFiles(): Promise<ModelFileEntry[]> {
  const kept = await (await database()).getAll('files')
  return kept
    .map(({ hash, fileName, bytes, keptAt }) => ({ hash, fileName, bytes, keptAt }))
    .sort((a, b) => b.keptAt - a.keptAt)
}

/** Only ever asked for by a person. */
export async function removeModelFile(hash: string): Promise<void> {
  inMemory.delete(hash)
  await (await database()).delete('files', hash)
}
