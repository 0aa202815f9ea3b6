import { freshId } from './edits.ts'
import { MOST } from './readDocumentSchema.ts'
import type { SkidDocument, Viewpoint } from './types.ts'

/** What a saved look is, all but its id. */
export type Look = Omit<Viewpoint, 'id'>

/**
 * The document with the look saved last. Gives the new document and the viewpoint's id.
 *
 * @throws RangeError when the document holds as many as a file may.
 */
export function addViewpoint(document: SkidDocument, look: Look): { document: SkidDocument; id: string } {
  if (document.viewpoints.length >= MOST.listed)
    throw new RangeError(
      `found ${document.viewpoints.length} saved views, wanted at most ${MOST.listed}: delete one first`,
    )
  const id = freshId(
    'view',
    document.viewpoints.map(w => w.id),
  )
  return { document: { ...document, viewpoints: [...document.viewpoints, { id, ...look }] }, id }
}

/** Changes what is given of a viewpoint: its words, or the look when it is taken again. The id stays. */
export function changeViewpoint(document: SkidDocument, id: string, change: Partial<Look>): SkidDocument {
  indexOf(document, id)
  return {
    ...document,
    viewpoints: document.viewpoints.map(w => (w.id === id ? { ...w, ...change } : w)),
  }
}

export function removeViewpoint(document: SkidDocument, id: string): SkidDocument {
  indexOf(document, id)
  return { ...document, viewpoints: document.viewpoints.filter(w => w.id !== id) }
}

/** Moves a viewpoint `by` places down the list (negative: up); at either end the document stays as it is. */
export function moveViewpoint(document: SkidDocument, id: string, by: number): SkidDocument {
  const from = indexOf(document, id)
  const to = from + by
  if (to < 0 || to >= document.viewpoints.length || by === 0) return document
  const viewpoints = document.viewpoints.filter(w => w.id !== id)
  viewpoints.splice(to, 0, document.viewpoints[from]!)
  return { ...document, viewpoints }
}

/** "View 3": the first such name that no viewpoint has. */
export function freshViewName(document: SkidDocument): string {
  const taken = new Set(document.viewpoints.map(w => w.name))
  let n = document.viewpoints.length + 1
  while (taken.has(`View ${n}`)) n++
  return `View ${n}`
}

/** @throws RangeError when the document has no such viewpoint. */
function indexOf(document: SkidDocument, id: string): number {
  const at = document.viewpoints.findIndex(w => w.id === id)
  if (at < 0) throw new RangeError(`the document has no saved view "${id}"`)
  return at
}
