import * as v from 'valibot'
import { emptyDocument } from './newDocument.ts'
import { broughtUp, errorOf, NEWEST_VERSION } from './readDocument.ts'
import { quoted, referenceErrors } from './readDocumentReferences.ts'
import { documentSchema } from './readDocumentSchema.ts'
import { soundStart } from './soundStart.ts'
import type { SkidDocument } from './types.ts'

/** What is sound of a damaged file. */
export interface Salvaged {
  readonly document: SkidDocument
  /** Parts that are in it, by list, of how many the file had. */
  readonly kept: readonly { readonly list: string; readonly kept: number; readonly of: number }[]
  /** What is not in it, and why: a part by its name, or a field that has its plain value again. One sentence each. */
  readonly leftOut: readonly string[]
}

/** Leaving something out may leave another part without what it refers to: so many rounds at most. */
const ROUNDS = 50

type Loose = Record<string, unknown>

/**
 * The parts of a damaged skid document that can be read as they stand, each whole or not at all: half a run would be
 * another tube. A part that refers to one that is left out is left out, too. Nothing is mended.
 *
 * @returns null when there is nothing to save: no skid document, a newer format, a good one, or no sound part.
 */
export function salvageDocument(text: string): Salvaged | null {
  const leftOut: string[] = []
  const json = parsed(text, leftOut)
  if (typeof json !== 'object' || json === null || Array.isArray(json)) return null
  const top = json as Loose
  const { format, version } = top
  if (format !== 'dogleg-skid') return null
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1 || version > NEWEST_VERSION)
    return null
  const plain = emptyDocument('Untitled skid') as unknown as Loose
  const current: Loose = { ...broughtUp(top, version) }
  for (const [field, value] of Object.entries(plain))
    if (!Object.hasOwn(current, field)) {
      current[field] = value
      leftOut.push(`${field}: nothing of it is in what can be read`)
    }
  const before = countsOf(current)
  for (let round = 0; round < ROUNDS; round++) {
    const result = v.safeParse(documentSchema, current)
    const errors = result.success ? referenceErrors(result.output) : result.issues.map(errorOf)
    if (result.success && errors.length === 0) {
      const kept = before
        .filter(({ of }) => of > 0)
        .map(({ list, of }) => ({
          list,
          kept: (result.output[list as keyof SkidDocument] as unknown[]).length,
          of,
        }))
      if (leftOut.length === 0 || kept.every(k => k.kept === 0)) return null
      return { document: result.output, kept, leftOut }
    }
    drop(current, plain, errors, leftOut)
  }
  return null
}

/** The value of the text; of a text that breaks off or breaks down, that of its sound beginning. */
function parsed(text: string, leftOut: string[]): unknown {
  const plain = text.startsWith('\uFEFF') ? text.slice(1) : text
  try {
    return JSON.parse(plain)
  } catch {
    const start = soundStart(plain)
    if (start === null) return null
    const line = plain.slice(0, start.length).split('\n').length
    leftOut.push(`everything after line ${line} of the file: its text is no JSON from there on`)
    return start.value
  }
}

const countsOf = (document: Loose) =>
  Object.entries(document).flatMap(([list, value]) =>
    Array.isArray(value) ? [{ list, of: value.length }] : [],
  )

/** Takes out the entries of lists that the errors lie in; other fields get their plain value. */
function drop(
  current: Loose,
  plain: Loose,
  errors: readonly { readonly path: string; readonly message: string }[],
  leftOut: string[],
): void {
  const entries = new Map<string, Set<number>>()
  for (const { path, message } of errors) {
    const [, field = '', index] = /^([^.[]*)(?:\[(\d+)\])?/.exec(path) ?? []
    const list = current[field]
    if (index !== undefined && Array.isArray(list)) {
      const own = entries.get(field) ?? new Set()
      entries.set(field, own)
      const at = Number(index)
      if (!own.has(at)) leftOut.push(`${nameOf(list[at], field)}: ${message}`)
      own.add(at)
    } else if (Object.hasOwn(plain, field)) {
      if (current[field] !== plain[field]) leftOut.push(`${message}; the usual value is taken`)
      current[field] = plain[field]
    } else {
      leftOut.push(message)
      delete current[field]
    }
  }
  for (const [field, out] of entries)
    current[field] = (current[field] as unknown[]).filter((_, i) => !out.has(i))
}

function nameOf(entry: unknown, list: string): string {
  if (typeof entry !== 'object' || entry === null) return `one of ${list}`
  const { tag, name, id } = entry as Loose
  const called = [tag, name, id].find(word => typeof word === 'string' && word !== '')
  return typeof called === 'string' ? quoted(called) : `one of ${list}`
}
