import type { SkidDocument } from '../document/types.ts'

/**
 * Whether two documents are versions of one skid: at least half of the runs of the one that has fewer are in both, by
 * id and tag. A document has no identity of its own, its name is free to change, and an id alone may be anybody's
 * "r1". Without runs nothing tells, so the answer is no.
 */
export function sameSkid(a: SkidDocument, b: SkidDocument): boolean {
  const [few, many] = a.runs.length <= b.runs.length ? [a.runs, b.runs] : [b.runs, a.runs]
  const tags = new Map(many.map(r => [r.id, r.tag]))
  const both = few.filter(r => tags.get(r.id) === r.tag).length
  return few.length > 0 && 2 * both >= few.length
}
