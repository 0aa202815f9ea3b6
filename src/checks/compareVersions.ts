import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { type Comparison, compareDocuments } from './compareDocuments.ts'
import { compareFindings, type FindingsComparison } from './compareFindings.ts'
import { compareParts, type PartsComparison } from './compareParts.ts'
import { largestMove, type Move } from './largestMove.ts'

/** All that a later version does to a document. */
export interface VersionsComparison {
  readonly runs: Comparison
  /** Largest move of a point, by the id of a changed run; a run none of whose points moved is not in it. */
  readonly moves: ReadonlyMap<string, Move>
  readonly others: PartsComparison
  /** Null when one of the versions was not checked. */
  readonly findings: FindingsComparison | null
}

/** @param checked findings of all checks of both versions, or null when they were not made. */
export function compareVersions(
  before: SkidDocument,
  after: SkidDocument,
  checked: { readonly before: readonly Finding[]; readonly after: readonly Finding[] } | null,
): VersionsComparison {
  const runs = compareDocuments(before, after)
  const was = new Map(before.runs.map(r => [r.id, r]))
  const is = new Map(after.runs.map(r => [r.id, r]))
  const moves = new Map<string, Move>()
  for (const { runId } of runs.changed) {
    const move = largestMove(before, was.get(runId)!, after, is.get(runId)!)
    if (move) moves.set(runId, move)
  }
  return {
    runs,
    moves,
    others: compareParts(before, after),
    findings: checked && compareFindings(checked.before, checked.after),
  }
}

/** True when nothing of the document is different; its findings follow from it. */
export const isSame = ({ runs, others }: VersionsComparison): boolean =>
  runs.added.length + runs.removed.length + runs.changed.length === 0 &&
  others.parts.length === 0 &&
  others.settings.length === 0
