import type { DBSchema } from 'idb'
import { reopening } from './reopening.ts'

/** One document kept in the browser's own storage. */
export interface Copy {
  readonly id: string
  readonly name: string
  /** The document as a file would hold it. */
  readonly text: string
  /** Milliseconds since 1970. */
  readonly keptAt: number
  /** False while the user changed nothing in it: such a copy may go. */
  readonly changed: boolean
  /** The file that holds exactly this, or null. */
  readonly inFile: string | null
}

interface Schema extends DBSchema {
  copies: { key: string; value: Copy }
}

/** Copies that are also in a file, or never changed, are dropped beyond this many, oldest first. */
const KEEP_AT_MOST = 40

const database = reopening<Schema>('dogleg', db => {
  db.createObjectStore('copies', { keyPath: 'id' })
})

/**
 * Done once the browser says that the copy is on the disk, not only handed to the system: it is to outlive a crash of
 * the browser and of the machine.
 * @throws what the browser throws when it refuses storage or is out of room.
 */
export async function putCopy(copy: Copy): Promise<void> {
  const db = await database()
  const writing = db.transaction('copies', 'readwrite', { durability: 'strict' })
  await Promise.all([writing.store.put(copy), writing.done])
}

/** All kept copies, newest first. @throws when the browser refuses storage. */
export async function listCopies(): Promise<Copy[]> {
  const db = await database()
  return (await db.getAll('copies')).sort((a, b) => b.keptAt - a.keptAt)
}

export async function removeCopy(id: string): Promise<void> {
  const db = await database()
  await db.delete('copies', id)
}

/** Drops old copies that hold nothing of the user's that is not elsewhere. */
export async function tidyCopies(keepId: string): Promise<void> {
  const copies = await listCopies()
  const spare = copies.filter(
    (copy, i) => copy.id !== keepId && (!copy.changed || (copy.inFile && i >= KEEP_AT_MOST)),
  )
  for (const copy of spare) await whenFree(copy.id, () => removeCopy(copy.id))
}

const lockName = (id: string) => `dogleg-copy-${id}`
const hasLocks = () => typeof navigator !== 'undefined' && 'locks' in navigator

/** Does `work` unless a tab holds the copy. Without Web Locks nobody can tell, so nothing is done. */
async function whenFree(id: string, work: () => Promise<void>): Promise<void> {
  if (!hasLocks()) return
  await navigator.locks.request(lockName(id), { ifAvailable: true }, lock =>
    lock ? work() : Promise.resolve(),
  )
}

/**
 * Takes the copy for this tab, waiting up to `patienceMs` for a tab that is just closing.
 * @returns the function that gives it back, or null when another tab has it (or nobody can tell).
 */
export async function holdCopy(id: string, patienceMs: number): Promise<(() => void) | null> {
  if (!hasLocks()) return null
  const until = performance.now() + patienceMs
  for (;;) {
    const held = await holdNow(id)
    if (held || performance.now() >= until) return held
    await new Promise(resolve => setTimeout(resolve, 50))
  }
}

/** Asks once: a page that is busy waits longer for the answer, but never mistakes its own slowness for another tab. */
function holdNow(id: string): Promise<(() => void) | null> {
  return new Promise(resolve => {
    navigator.locks
      .request(lockName(id), { ifAvailable: true }, lock => {
        if (!lock) return resolve(null)
        return new Promise<void>(release => resolve(release))
      })
      .catch(() => resolve(null))
  })
}
