import { useMemo } from 'react'
import { useStore } from 'zustand'
import { compareVersions, type VersionsComparison } from '../../checks/compareVersions.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { namesOfBoth } from '../../outputs/compareText.ts'
import { type CompareState, compareStore } from '../../store/compareStore.ts'
import { useFindings } from '../useFindings.ts'
import { useSession } from '../useStore.ts'
import { type ChangeGroup, type ChangeRow, changeGroups } from './changeRows.ts'

export interface Changes {
  readonly earlier: NonNullable<CompareState['earlier']>
  readonly document: SkidDocument
  readonly found: VersionsComparison
  /** The name of a part of either version by its id. */
  readonly name: (id: string) => string
  readonly groups: readonly ChangeGroup[]
  readonly chosen: ChangeRow | null
  /** Why findings are not compared (yet); '' when they are. */
  readonly pending: string
}

/** List and detail show the same comparison: it is made once for both. */
let last: { of: readonly unknown[]; answer: Omit<Changes, 'chosen' | 'pending'> } | null = null

function changesOf(
  earlier: Changes['earlier'],
  document: SkidDocument,
  before: readonly Finding[] | null,
  after: readonly Finding[],
  unit: LengthUnit,
) {
  const of = [earlier, document, before, before && after, unit]
  if (!last || of.some((x, i) => x !== last?.of[i])) {
    const found = compareVersions(earlier.document, document, before && { before, after })
    const name = namesOfBoth(earlier.document, document)
    last = { of, answer: { earlier, document, found, name, groups: changeGroups(found, name, unit) } }
  }
  return last.answer
}

/** What has changed since the earlier version, kept up to date; null when none is compared with. */
export function useChanges(): Changes | null {
  const { document, findings, complete } = useFindings()
  const unit = useSession(s => s.unit)
  const { earlier, checked, chosen } = useStore(compareStore)
  const before = complete && checked.state === 'done' ? checked.findings : null
  return useMemo(() => {
    if (!earlier) return null
    const changes = changesOf(earlier, document, before, findings, unit)
    const rows = changes.groups.flatMap(g => g.rows)
    return {
      ...changes,
      chosen: rows.find(r => r.id === chosen) ?? null,
      pending: pendingWords(checked, complete),
    }
  }, [earlier, document, before, findings, unit, chosen, checked, complete])
}

function pendingWords(checked: CompareState['checked'], complete: boolean): string {
  if (checked.state === 'failed')
    return `Not compared: the earlier version could not be checked (${checked.reason}).`
  if (checked.state === 'checking') return 'The earlier version is being checked…'
  return complete ? '' : 'This version is being checked…'
}
