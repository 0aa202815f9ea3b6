import { fileOpen, fileSave } from 'browser-fs-access'
import { readDocument } from '../document/readDocument.ts'
import type { SkidDocument } from '../document/types.ts'
import { visibleText } from '../document/visibleText.ts'
import { writeDocument } from '../document/writeDocument.ts'
import { keepNow } from './autosave.ts'
import { documentStore } from './documentStore.ts'
import { type GoOn, prepare } from './prepare.ts'
import { savingStore } from './savingStore.ts'

/** One thing wrong with a file that was to be opened. */
export interface FileFault {
  readonly path: string
  readonly found: string
  readonly wanted: string
  readonly message: string
}
export type FileAnswer =
  /** `converted`: what reading an older file has changed, in whole sentences; '' for nothing. */
  | { readonly kind: 'done'; readonly name: string; readonly converted?: string }
  | { readonly kind: 'cancelled' }
  /** `text`: what the file holds, where some of it may be sound. */
  | {
      readonly kind: 'refused'
      readonly name: string
      readonly faults: readonly FileFault[]
      readonly text?: string
    }
  /** Nothing was written; the document is as it was. */
  | { readonly kind: 'notSaved'; readonly name: string; readonly reason: string }
  /** Nothing was written: the file is no longer what it was when this page last read or wrote it. */
  | { readonly kind: 'changedOnDisk'; readonly name: string; readonly at: number }

const EXTENSION = '.dogleg.json'
/** Past this a file is not read at all: the text alone would take the page's memory. Bytes. */
const LARGEST_FILE = 64 * 1024 * 1024

/** The file that Save writes to, where the browser lets a page write to a file. */
let handle: FileSystemFileHandle | null = null
/** What that file held when it was last read or written here; null when that is not known. */
let lastSeen: { readonly modified: number; readonly text: string } | null = null

const wasCancelled = (error: unknown) => error instanceof DOMException && error.name === 'AbortError'
const fault = (message: string, found: string, wanted: string): FileFault => ({
  path: '',
  found,
  wanted,
  message,
})
const failed = (name: string, error: unknown): FileAnswer => ({
  kind: 'refused',
  name,
  faults: [
    fault(
      `The file could not be reached: ${error instanceof Error ? error.message : String(error)}`,
      'an error from the browser',
      'a file it can use',
    ),
  ],
})

export interface Opening {
  /** Given the file's name, what is asked while it takes a while; see `prepare`. */
  readonly goOn: (name: string) => GoOn
  /** Called at once when the document is open, before anything of it is drawn. */
  readonly opened: () => void
}

/** Asks for a file and opens it. A damaged or newer file is refused; the open document is then untouched. */
export async function openFile(opening: Opening): Promise<FileAnswer> {
  let file: Awaited<ReturnType<typeof pickText>>
  try {
    file = await pickText('Skid document', ['.json'])
  } catch (error) {
    return wasCancelled(error) ? { kind: 'cancelled' } : failed('the file', error)
  }
  return openGivenFile(file, file.handle ?? null, opening)
}

/** Opens a file that came by picker or drop; same refusals. */
export async function openGivenFile(
  file: File,
  from: FileSystemFileHandle | null,
  opening: Opening,
): Promise<FileAnswer> {
  const text = await textOf(file)
  if (typeof text !== 'string') return text
  const read = readDocument(text)
  if (!read.ok) return { kind: 'refused', name: file.name, faults: read.errors, text }
  if (!(await prepare(read.document, opening.goOn(file.name)))) return { kind: 'cancelled' }
  documentStore.getState().open(read.document)
  inFileNow(read.document, file.name, from)
  opening.opened()
  lastSeen = from ? { modified: file.lastModified, text } : null
  return { kind: 'done', name: file.name, converted: (read.converted ?? []).join(' ') }
}

function inFileNow(document: SkidDocument, name: string, from: FileSystemFileHandle | null): void {
  handle = from
  savingStore.setState({ fileName: name, fileAt: Date.now() })
  documentStore.setState({ savedToFile: document })
}

/** A document that did not come from a file: Save will ask for a place. */
export function openWithoutFile(document: SkidDocument): void {
  forgetFile()
  documentStore.getState().open(document)
}

/** The open document no longer belongs to the last file. */
export function forgetFile(): void {
  handle = null
  lastSeen = null
  savingStore.setState({ fileName: null, fileAt: null })
}

/** Where a document is to be written: its own file, another one, or its own whatever that holds by now. */
export type SavePlace = 'own' | 'elsewhere' | 'ownOverChanges'

/** The last save, so that the next one begins after it: two at once would take each other for someone else. */
let saving: Promise<unknown> = Promise.resolve()

/** Writes the settled document, asking for a place when it has none or it is to go elsewhere. */
export function saveFile(place: SavePlace): Promise<FileAnswer> {
  const answer = saving.then(() => writeTo(place))
  saving = answer
  return answer
}

async function writeTo(place: SavePlace): Promise<FileAnswer> {
  const { settled } = documentStore.getState()
  const known = savingStore.getState().fileName
  const own = place !== 'elsewhere'
  const name = known && own ? plainName(known) : fileNameFor(settled.name)
  try {
    if (place === 'own') {
      const at = await changedOnDisk()
      if (at !== null) return { kind: 'changedOnDisk', name, at }
    }
    const text = writeDocument(settled)
    const blob = new Blob([text], { type: 'application/json' })
    const options = { fileName: name, extensions: ['.json'], description: 'Skid document', id: 'dogleg' }
    const written = await fileSave(blob, options, own ? handle : null)
    inFileNow(settled, written?.name ?? name, written ?? null)
    const file = await written?.getFile().catch(() => null)
    lastSeen = file ? { modified: file.lastModified, text } : null
    await keepNow()
    return { kind: 'done', name: written?.name ?? name }
  } catch (error) {
    return wasCancelled(error) ? { kind: 'cancelled' } : { kind: 'notSaved', name, reason: whyNot(error) }
  }
}

/**
 * When someone else changed the file that Save writes to, milliseconds since 1970; null when it still holds what was
 * last seen (a new date alone is no change), or when that cannot be told.
 */
async function changedOnDisk(): Promise<number | null> {
  // A file that is gone or out of reach is the writing's to tell.
  const file = await handle?.getFile().catch(() => null)
  if (!file || !lastSeen || file.lastModified === lastSeen.modified) return null
  const same = file.size <= LARGEST_FILE && (await file.text()) === lastSeen.text
  return same ? null : file.lastModified
}

function whyNot(error: unknown): string {
  switch (error instanceof DOMException ? error.name : '') {
    case 'NotAllowedError':
    case 'SecurityError':
      return 'The browser was not given the right to write to this file.'
    case 'NoModificationAllowedError':
    case 'InvalidStateError':
      return 'The file is locked: another program or tab may be using it.'
    case 'QuotaExceededError':
      return 'There is no room left where the file is.'
    default:
      return `The file could not be written: ${error instanceof Error ? error.message || error.name : String(error)}`
  }
}

/** Hands a file to the browser's downloads: works when storage and file pickers do not. */
export function download(name: string, data: string | Uint8Array<ArrayBuffer>, type: string): void {
  const url = URL.createObjectURL(new Blob([data], { type }))
  const anchor = document.createElement('a')
  anchor.href = url
  anchor.download = name
  anchor.click()
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}

export const downloadDocument = (skid: SkidDocument): void =>
  download(fileNameFor(skid.name), writeDocument(skid), 'application/json')

/** Asks for a text file such as a table. */
export const pickText = (description: string, extensions: string[]) =>
  fileOpen({ description, extensions, id: 'dogleg' })

/** A text that is not longer than a page can take, or the refusal. */
export async function textOf(file: File): Promise<string | FileAnswer> {
  if (file.size <= LARGEST_FILE) return file.text().catch((error: unknown) => failed(file.name, error))
  const found = `${(file.size / 1048576).toFixed(0)} MB`
  const wanted = `at most ${LARGEST_FILE / 1048576} MB`
  return {
    kind: 'refused',
    name: file.name,
    faults: [fault(`The file is too large: ${found}, wanted ${wanted}.`, found, wanted)],
  }
}

/** A file's own name; another where it hides what kind of file it is. */
const plainName = (name: string): string =>
  visibleText(name) === name ? name : fileNameFor(name.replace(/(\.dogleg)?\.json$/i, ''))

/** A file name that every system takes, made of the document's name. */
export function fileNameFor(documentName: string, extension = EXTENSION): string {
  const stem = documentName
    .normalize('NFKC')
    .replace(/[^\p{L}\p{N}._-]+/gu, '-')
    .replace(/^[-.]+|[-.]+$/g, '')
    .slice(0, 80)
  return `${stem || 'skid'}${extension}`
}
