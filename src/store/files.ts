import { fileOpen, fileSave } from 'browser-fs-access'
import { readDocument } from '../document/readDocument.ts'
import type { SkidDocument } from '../document/types.ts'
import { writeDocument } from '../document/writeDocument.ts'
import { keepNow } from './autosave.ts'
import { documentStore } from './documentStore.ts'
import { savingStore } from './savingStore.ts'

/** One thing wrong with a file that was to be opened. */
export interface FileFault {
  readonly path: string
  readonly found: string
  readonly wanted: string
  readonly message: string
}
export type FileAnswer =
  | { readonly kind: 'done'; readonly name: string }
  | { readonly kind: 'cancelled' }
  | { readonly kind: 'refused'; readonly name: string; readonly faults: readonly FileFault[] }

const EXTENSION = '.dogleg.json'
/** Past this a file is not read at all: the text alone would take the page's memory. Bytes. */
const LARGEST_FILE = 64 * 1024 * 1024

/** The file that Save writes to, where the browser lets a page write to a file. */
let handle: FileSystemFileHandle | null = null

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

/** Asks for a file and opens it. A damaged or newer file is refused; the open document is then untouched. */
export async function openFile(): Promise<FileAnswer> {
  let file: Awaited<ReturnType<typeof pickText>>
  try {
    file = await pickText('Skid document', ['.json'])
  } catch (error) {
    return wasCancelled(error) ? { kind: 'cancelled' } : failed('the file', error)
  }
  return openGivenFile(file, file.handle ?? null)
}

/** Opens a file that came by picker or drop; same refusals. */
export async function openGivenFile(file: File, from: FileSystemFileHandle | null): Promise<FileAnswer> {
  const text = await textOf(file)
  if (typeof text !== 'string') return text
  const read = readDocument(text)
  if (!read.ok) return { kind: 'refused', name: file.name, faults: read.errors }
  documentStore.getState().open(read.document)
  inFileNow(read.document, file.name, from)
  return { kind: 'done', name: file.name }
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
  savingStore.setState({ fileName: null, fileAt: null })
}

/** Writes the settled document to its file, asking for a place when it has none or `elsewhere`. */
export async function saveFile(elsewhere: boolean): Promise<FileAnswer> {
  const { settled } = documentStore.getState()
  const known = savingStore.getState().fileName
  const name = known && !elsewhere ? known : fileNameFor(settled.name)
  try {
    const blob = new Blob([writeDocument(settled)], { type: 'application/json' })
    const options = { fileName: name, extensions: ['.json'], description: 'Skid document', id: 'dogleg' }
    const written = await fileSave(blob, options, elsewhere ? null : handle)
    inFileNow(settled, written?.name ?? name, written ?? null)
    await keepNow()
    return { kind: 'done', name: written?.name ?? name }
  } catch (error) {
    return wasCancelled(error) ? { kind: 'cancelled' } : failed(name, error)
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

/** A file name that every system takes, made of the document's name. */
export function fileNameFor(documentName: string, extension = EXTENSION): string {
  const stem = documentName
    .normalize('NFKC')
    .replace(/[^\p{L}\p{N}._-]+/gu, '-')
    .replace(/^[-.]+|[-.]+$/g, '')
    .slice(0, 80)
  return `${stem || 'skid'}${extension}`
}
