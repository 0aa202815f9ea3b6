import { useMemo } from 'react'
import type { SkidDocument } from '../../document/types.ts'
import { findingsByRun } from '../../store/findings.ts'
import { useFindings } from '../useFindings.ts'
import type { Programme } from './programme.ts'
import { type Release, releaseOf } from './release.ts'
import type { Clearing } from './useClearances.ts'

/** Whether the run may be bent in the order in use, kept up to date while the checks go on; null without a programme. */
export function useRelease(
  { acceptances }: SkidDocument,
  programme: Programme | null,
  clearing: Clearing,
): Release | null {
  const { findings, complete } = useFindings()
  const solved = programme?.solved ?? null
  return useMemo(
    () =>
      solved &&
      releaseOf(solved, findingsByRun(findings).get(solved.runId) ?? [], acceptances, clearing, complete),
    [solved, findings, acceptances, clearing, complete],
  )
}
