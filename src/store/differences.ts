import { type Comparison, compareDocuments } from '../checks/compareDocuments.ts'
import type { SkidDocument } from '../document/types.ts'

let last: { before: SkidDocument; after: SkidDocument; answer: Comparison } | null = null

/** What the open document does to the runs of an earlier version; solved once for picture, strip and list. */
export function differencesOf(before: SkidDocument, after: SkidDocument): Comparison {
  if (last?.before !== before || last.after !== after)
    last = { before, after, answer: compareDocuments(before, after) }
  return last.answer
}

/** Ids of the open document's runs that the earlier version has otherwise or not at all. */
export const differentRuns = ({ added, changed }: Comparison): string[] => [
  ...added.map(r => r.id),
  ...changed.map(c => c.runId),
]
