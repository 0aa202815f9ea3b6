import type { SkidDocument } from './types.ts'

/** A list as pieces of the one before, and entries that are not in it, in order. */
type ListChange = readonly (
  | { readonly from: number; readonly count: number }
  | { readonly entries: readonly unknown[] }
)[]

/** What one document has that another has not: small where few things differ, however large both are. Plain data. */
export interface DocumentChange {
  /** False: the change is the whole document. */
  readonly isOfBefore: boolean
  readonly fields: Readonly<Record<string, unknown>>
  readonly lists: Readonly<Record<string, ListChange>>
}

/** What `after` has otherwise than `before`, by identity: what an edit does not touch is the same object. */
export function changeOf(before: SkidDocument | null, after: SkidDocument): DocumentChange {
  if (!before) return { isOfBefore: false, fields: { ...after }, lists: {} }
  const fields: Record<string, unknown> = {}
  const lists: Record<string, ListChange> = {}
  for (const [name, now] of Object.entries(after)) {
    const was: unknown = before[name as keyof SkidDocument]
    if (now === was) continue
    if (Array.isArray(now) && Array.isArray(was)) lists[name] = listChange(was, now)
    else fields[name] = now
  }
  return { isOfBefore: true, fields, lists }
}

function listChange(was: readonly unknown[], now: readonly unknown[]): ListChange {
  const places = new Map(was.map((entry, i) => [entry, i]))
  const pieces: ({ from: number; count: number } | { entries: unknown[] })[] = []
  for (const entry of now) {
    const last = pieces.at(-1)
    const at = places.get(entry)
    if (at === undefined) {
      if (last && 'entries' in last) last.entries.push(entry)
      else pieces.push({ entries: [entry] })
    } else if (last && 'from' in last && last.from + last.count === at) last.count++
    else pieces.push({ from: at, count: 1 })
  }
  return pieces
}

/**
 * The document that the change leads to. What it does not touch is the same object as in `before`.
 *
 * @throws RangeError when the change is one of another document, and none was there before.
 */
export function withChange(before: SkidDocument | null, change: DocumentChange): SkidDocument {
  const { isOfBefore, fields, lists } = change
  if (!isOfBefore) return fields as unknown as SkidDocument
  if (!before) throw new RangeError('withChange: found a change of a document that is not there')
  const changed: Record<string, unknown> = { ...before, ...fields }
  for (const [name, pieces] of Object.entries(lists)) {
    const was = before[name as keyof SkidDocument] as readonly unknown[]
    changed[name] = pieces.flatMap(piece =>
      'from' in piece ? was.slice(piece.from, piece.from + piece.count) : piece.entries,
    )
  }
  return changed as unknown as SkidDocument
}
