import { readDocument } from '../document/readDocument.ts'
import type { SkidDocument } from '../document/types.ts'
import { writeDocument } from '../document/writeDocument.ts'
import { tabMemory, whyNotKept } from './browserMemory.ts'
import { type Copy, holdCopy, listCopies, putCopy, tidyCopies } from './copies.ts'
import { documentStore } from './documentStore.ts'
import { prepare } from './prepare.ts'
import { savingStore } from './savingStore.ts'
import { sessionStore } from './sessionStore.ts'

/** From a change to the beginning of its writing, ms: the picture of it comes first. */
const SOON_MS = 20
/** How long a reloaded tab waits for its own former self to let go of its copy. */
const RELOAD_PATIENCE_MS = 700
/** How often a refused document is offered to the browser's storage again, without anybody's doing. */
const AGAIN_MS = 3000
/** The tab's copy id survives a reload here, and is carried into a duplicated tab, where the lock decides. */
const TAB_KEY = 'dogleg-copy'

let copyId = freshCopyId()
let letGo: (() => void) | null = null
/** Set by a document that was opened from the kept copies, so that the subscriber goes on with that copy. */
let adopting = false
let timer: ReturnType<typeof setTimeout> | null = null
/** Writes under way, and whether the document has changed since the last of them began. */
let underWay = 0
let changedSince = false
let again: ReturnType<typeof setTimeout> | null = null
let writing: Promise<void> = Promise.resolve()

function freshCopyId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(12))
  return Array.from(bytes, b => b.toString(16).padStart(2, '0')).join('')
}

/** Goes on with this copy id; its lock, when held, is given back at the next change of copy. */
function take(id: string, release: (() => void) | null): void {
  letGo?.()
  copyId = id
  letGo = release
  // Where it is not kept, a reload opens the newest copy instead, which is this one.
  tabMemory.keepText(TAB_KEY, id)
}

async function takeFresh(): Promise<void> {
  const id = freshCopyId()
  take(id, null)
  const release = await holdCopy(id, 50)
  if (copyId === id) letGo = release
  else release?.()
}

/**
 * Opens what this tab had before its reload, else the newest copy kept in this browser. A copy that another
 * tab has open is opened as a copy of its own, so neither tab overwrites the other.
 * @returns false when there is nothing kept, or it cannot be read.
 */
export async function openLastCopy(): Promise<boolean> {
  const mine = tabMemory.text(TAB_KEY)
  const copies = await listCopies().catch(refused)
  const copy = copies?.find(c => c.id === mine) ?? copies?.[0]
  return copy ? openCopy(copy, copy.id === mine ? RELOAD_PATIENCE_MS : 50) : false
}

/** Opens a kept copy in this tab. @returns false when the copy is damaged; it stays in the list. */
export async function openCopy(copy: Copy, patienceMs = 50): Promise<boolean> {
  const read = readDocument(copy.text)
  if (!read.ok) return false
  await prepare(read.document)
  const held = copy.id === copyId ? letGo : await holdCopy(copy.id, patienceMs)
  await settleCopy()
  if (copy.id !== copyId) {
    if (held) take(copy.id, held)
    else await takeFresh()
  }
  savingStore.setState({ isChanged: copy.changed })
  adopting = true
  documentStore.getState().open(read.document)
  adopting = false
  if (copy.inFile) documentStore.setState({ savedToFile: read.document })
  savingStore.setState({
    keeping: held ? { kind: 'kept', at: copy.keptAt } : { kind: 'underWay' },
    ownCopy: !held,
    fileName: copy.inFile,
    fileAt: null,
  })
  if (!held) await keepNow()
  return true
}

function refused(error: unknown): null {
  const reason = error instanceof RangeError ? `it cannot be written (${error.message})` : whyNotKept(error)
  if (savingStore.getState().keeping.kind !== 'refused')
    sessionStore
      .getState()
      .say(
        `You can work on, but changes are not saved: ${reason}. “Download the skid” saves it to a file; trying again.`,
      )
  savingStore.setState({ keeping: { kind: 'refused', reason } })
  if (again) clearTimeout(again)
  again = setTimeout(() => void keepNow(), AGAIN_MS)
  return null
}

function keptNow(at: number): void {
  const wasRefused = savingStore.getState().keeping.kind === 'refused'
  savingStore.setState({ keeping: { kind: 'kept', at } })
  if (!wasRefused) return
  const time = new Date(at).toLocaleTimeString(undefined, { timeStyle: 'medium' })
  sessionStore.getState().say(`Saved in this browser again, at ${time}.`)
}

/** Writes the settled document now. Never throws: a refusal is in {@link savingStore}. */
export function keepNow(): Promise<void> {
  const { settled, savedToFile } = documentStore.getState()
  return write(settled, savedToFile === settled)
}

function write(settled: SkidDocument, alsoInFile: boolean): Promise<void> {
  for (const due of [timer, again]) if (due) clearTimeout(due)
  timer = again = null
  changedSince = false
  let text: string
  try {
    text = writeDocument(settled)
  } catch (error) {
    refused(error)
    return writing
  }
  const copy: Copy = {
    id: copyId,
    name: settled.name,
    text,
    keptAt: Date.now(),
    changed: savingStore.getState().isChanged,
    inFile: alsoInFile ? savingStore.getState().fileName : null,
  }
  underWay++
  writing = writing
    .then(() => putCopy(copy))
    .then(() => {
      if (documentStore.getState().settled === settled) keptNow(copy.keptAt)
    })
    .catch((error: unknown) => void refused(error))
    .finally(() => {
      underWay--
      if (underWay === 0 && changedSince) void keepNow()
    })
  return writing
}

/**
 * Never waits for silence: a change is written at once, or as soon as the write before it is through. In a burst each
 * write takes the newest, so that storage is as little behind as it is fast.
 */
function keepSoon(): void {
  if (underWay > 0) changedSince = true
  else timer ??= setTimeout(keepNow, SOON_MS)
}

const isDue = () => timer !== null || changedSince

/** True when closing the page would lose something: neither in the browser's storage nor in a file. */
export function wouldLose(document: SkidDocument): boolean {
  if (documentStore.getState().savedToFile === document) return false
  const { keeping, isChanged } = savingStore.getState()
  return (keeping.kind === 'refused' && isChanged) || keeping.kind === 'underWay'
}

/** Keeps every settled change within 300 ms. Gives the function that stops (and writes what is due). */
export function startAutosave(): () => void {
  const stop = documentStore.subscribe((now, before) => {
    if (now.settled === before.settled) {
      if (now.savedToFile !== before.savedToFile && now.savedToFile) keepSoon()
      return
    }
    const opened = now.generation !== before.generation
    if (opened && isDue()) void write(before.settled, before.savedToFile === before.settled)
    if (opened && adopting) return
    if (opened) {
      savingStore.setState({ isChanged: false })
      void takeFresh().then(() => tidyCopies(copyId).catch(() => {}))
      savingStore.setState({ ownCopy: false })
    } else savingStore.setState({ isChanged: true })
    const refusedBefore = savingStore.getState().keeping.kind === 'refused'
    if (!refusedBefore) savingStore.setState({ keeping: { kind: opened ? 'unchanged' : 'underWay' } })
    keepSoon()
  })
  const flush = () => {
    if (document.visibilityState === 'hidden' && isDue()) void keepNow()
  }
  document.addEventListener('visibilitychange', flush)
  return () => {
    stop()
    document.removeEventListener('visibilitychange', flush)
    if (again) clearTimeout(again)
    again = null
    if (isDue()) void keepNow()
  }
}

/** What is due is written, under its own id. */
async function settleCopy(): Promise<void> {
  if (isDue()) await keepNow()
  await writing
}

export const openCopyId = (): string => copyId
