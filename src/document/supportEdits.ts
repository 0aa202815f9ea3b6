import { freshId } from './edits.ts'
import type { SkidDocument, Support } from './types.ts'

/** Puts a support on a run, of the type that was last used. Gives the new document and the support's id. */
export function addSupport(
  document: SkidDocument,
  run: string,
  at: Support['at'],
): { document: SkidDocument; supportId: string } {
  const id = freshId(
    'c',
    document.supports.map(s => s.id),
  )
  const names = new Set(document.supports.map(s => s.name))
  let n = document.supports.length + 1
  while (names.has(`Support ${n}`)) n++
  const type = document.supports.at(-1)?.type ?? 'tube clamp'
  const support: Support = { id, name: `Support ${n}`, type, run, at }
  return { document: { ...document, supports: [...document.supports, support] }, supportId: id }
}

/** @throws RangeError when the document has no such support. */
export function editSupport(
  document: SkidDocument,
  id: string,
  patch: Partial<Omit<Support, 'id'>>,
): SkidDocument {
  if (!document.supports.some(s => s.id === id))
    throw new RangeError(`editSupport: the document has no support "${id}"`)
  return { ...document, supports: document.supports.map(s => (s.id === id ? { ...s, ...patch } : s)) }
}

export const removeSupport = (document: SkidDocument, id: string): SkidDocument => ({
  ...document,
  supports: document.supports.filter(s => s.id !== id),
})
