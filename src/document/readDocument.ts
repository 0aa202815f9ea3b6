import * as v from 'valibot'
import { type DocumentError, quoted, referenceErrors } from './readDocumentReferences.ts'
import { documentSchema } from './readDocumentSchema.ts'
import type { SkidDocument } from './types.ts'

export type { DocumentError }

export type ReadDocument =
  | {
      readonly ok: true
      readonly document: SkidDocument
      /** Of an older file, what was converted: whole sentences. Left out: nothing was. */
      readonly converted?: readonly string[]
    }
  | { readonly ok: false; readonly errors: readonly DocumentError[] }

/** Longest text read, in characters: about 100 times a dense skid. */
export const LONGEST_DOCUMENT = 50_000_000
/** The version this program writes. */
export const NEWEST_VERSION = 2
/** Errors listed before the rest is only counted. */
const MOST_ERRORS = 50

/** Brings a document of the version before to `version`. Never edited once released, only added to. */
export interface FormatStep {
  readonly version: number
  readonly name: string
  readonly bring: (before: Record<string, unknown>) => Record<string, unknown>
}

/** One named step per format version, oldest first. */
export const FORMAT_STEPS: readonly FormatStep[] = [
  { version: 1, name: 'the first format: nothing older to bring up', bring: before => before },
  {
    version: 2,
    name: 'imported models, supports and saved views: none in an older file',
    // Fields that version 1 did not have stay, to be judged like any other.
    bring: before => ({ models: [], supports: [], supportSpan: null, viewpoints: [], ...before, version: 2 }),
  },
]

/**
 * Reads a skid document from its JSON text.
 *
 * @returns the document, its fields in the format's order; or what is wrong: place, found, wanted, at most 50 of them
 *   and a count of the rest. Never throws, never drops a field or mends a value; of
 *   acceptances, words of earlier files become those of now (see `acceptanceCategories`).
 */
export function readDocument(text: string): ReadDocument {
  if (text.length > LONGEST_DOCUMENT)
    return refused('', `${text.length} characters`, `at most ${LONGEST_DOCUMENT} (50 MB)`)
  let json: unknown
  try {
    json = JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text)
  } catch (error) {
    return refused('', notJson(text, error), 'a skid document as JSON, saved as UTF-8')
  }
  return readParsed(json)
}

/** The same for a value that JSON.parse has made. */
export function readParsed(json: unknown): ReadDocument {
  if (typeof json !== 'object' || json === null || Array.isArray(json))
    return refused('', described(json), 'an object with the format "dogleg-skid"')
  const top = json as Record<string, unknown>
  const own = (key: string) => (Object.hasOwn(top, key) ? top[key] : undefined)
  if (own('format') !== 'dogleg-skid')
    return refused('format', described(own('format')), '"dogleg-skid": this is not a skid document')
  const version = own('version')
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return refused('version', described(version), `a whole number from 1 to ${NEWEST_VERSION}`)
  if (version > NEWEST_VERSION)
    return refused(
      'version',
      `${version}`,
      `${NEWEST_VERSION} or older: the file was written by a newer Dogleg, open it with that one`,
    )
  const current = broughtUp(top, version)
  const result = v.safeParse(documentSchema, current)
  const errors = result.success ? referenceErrors(result.output) : result.issues.map(errorOf)
  return result.success && errors.length === 0
    ? { ok: true, document: result.output, ...told(conversions(top, version, result.output)) }
    : { ok: false, errors: shortened(errors) }
}

/** The document in the newest format, not yet judged. */
export function broughtUp(top: Record<string, unknown>, version: number): Record<string, unknown> {
  let current = top
  for (const step of FORMAT_STEPS) if (step.version > version) current = step.bring(current)
  return current
}

/** Fields that came with a later format, as a person calls them. */
const FIELD_WORDS: Readonly<Record<string, string>> = {
  models: 'models',
  supports: 'supports',
  supportSpan: 'maximum span between supports',
  viewpoints: 'saved views',
}

const told = (converted: readonly string[]) => (converted.length > 0 ? { converted } : {})

/** What reading has changed of what is written in the file. */
function conversions(top: Record<string, unknown>, version: number, document: SkidDocument): string[] {
  const said: string[] = []
  if (version < NEWEST_VERSION) {
    const added = Object.keys(document).filter(field => !Object.hasOwn(top, field))
    const words = added.map(field => FIELD_WORDS[field] ?? field)
    const has = words.length > 0 ? ` Added, and empty: ${words.join(', ')}.` : ''
    said.push(`The file is of format version ${version}.${has} Saving writes version ${NEWEST_VERSION}.`)
  }
  const before = Array.isArray(top['acceptances']) ? (top['acceptances'] as { category?: unknown }[]) : []
  const renamed = new Map<string, string>()
  document.acceptances.forEach(({ category }, i) => {
    const was = before[i]?.category
    if (typeof was === 'string' && was !== category) renamed.set(was, category)
  })
  if (renamed.size > 0) {
    const pairs = [...renamed].map(([was, is]) => `“${was}” is now “${is}”`)
    said.push(`Categories of decisions: ${pairs.join(', ')}.`)
  }
  return said
}

function refused(path: string, found: string, wanted: string): ReadDocument {
  const place = path === '' ? 'the file' : path
  return {
    ok: false,
    errors: [{ path, found, wanted, message: `${place}: found ${found}; wanted ${wanted}` }],
  }
}

function shortened(errors: readonly DocumentError[]): readonly DocumentError[] {
  const left = errors.length - MOST_ERRORS
  if (left <= 0) return errors
  const found = `${left} more errors`
  return [
    ...errors.slice(0, MOST_ERRORS),
    { path: '', found, wanted: 'none', message: `the file: ${found} of this kind or others` },
  ]
}

export function errorOf(issue: v.BaseIssue<unknown>): DocumentError {
  const keys = issue.path?.map(step => step.key) ?? []
  const path = pathOf(keys)
  const last = String(keys[keys.length - 1] ?? '')
  const unknownField = issue.type === 'strict_object' && issue.expected === 'never'
  const missing = issue.type === 'strict_object' && issue.received === 'undefined' && keys.length > 0
  const found = unknownField ? `the field ${quoted(last)}` : missing ? 'nothing' : described(issue.input)
  const wanted = unknownField
    ? 'only the fields of the format'
    : missing
      ? `the field ${quoted(last)}`
      : issue.message
  return { path, found, wanted, message: `${path}: found ${found}; wanted ${wanted}` }
}

function pathOf(keys: readonly unknown[]): string {
  return keys
    .map((k, i) => {
      if (typeof k === 'number') return `[${k}]`
      const name = String(k)
      const plain = /^\w{1,60}$/.test(name) ? name : quoted(name)
      return i === 0 ? plain : `.${plain}`
    })
    .join('')
}

function described(value: unknown): string {
  if (value === undefined) return 'nothing'
  if (typeof value === 'string') return quoted(value)
  if (Array.isArray(value)) {
    const isShort = value.length > 0 && value.length <= 4 && value.every(v => typeof v === 'number')
    return isShort ? `the list ${value.join(', ')}` : `a list of ${value.length}`
  }
  return typeof value === 'object' && value !== null ? 'an object' : String(value)
}

function notJson(text: string, error: unknown): string {
  const at = /position (\d+)/.exec(error instanceof Error ? error.message : '')?.[1]
  if (text.trim() === '') return 'an empty file'
  if (text.slice(0, 100).includes('\0')) return 'text saved as UTF-16, which JSON is not'
  if (at === undefined) return `text that is no JSON, beginning ${quoted(text.slice(0, 61))}`
  const before = text.slice(0, Number(at))
  const line = before.split('\n').length
  const column = before.length - before.lastIndexOf('\n')
  return `text that is no JSON from line ${line}, column ${column}: ${quoted(text.slice(Number(at), Number(at) + 20))}`
}
