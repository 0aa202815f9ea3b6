import { useEffect, useState } from 'react'
import type { LengthUnit } from '../../../document/quantity.ts'
import type { SkidDocument } from '../../../document/types.ts'
import type { Finding } from '../../../findings/finding.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { useDocument } from '../../useStore.ts'
import { type Fix, knownFix } from './knownFix.ts'
import { whenIdle } from './whenIdle.ts'

/**
 * The fix for a finding in the settled document, or null when none is known, or not yet: each is tried out when the
 * page has nothing better to do, and none while a gesture lasts. `isStale`: found for a document that is no longer
 * shown, so that its words and figures are not to be shown either.
 */
export function useFix(
  finding: Finding,
  unit: LengthUnit,
): { readonly fix: Fix; readonly isStale: boolean } | null {
  const settled = useDocument(s => s.settled)
  const isMoving = useDocument(s => s.document !== s.settled)
  const [tried, setTried] = useState<{
    readonly fix: Fix | null
    readonly unit: LengthUnit
    readonly of: SkidDocument
  } | null>(null)
  const { id, measured, limit, severity } = finding
  // biome-ignore lint/correctness/useExhaustiveDependencies: every check makes its findings anew, most of them the same
  useEffect(() => {
    if (isMoving) return
    return whenIdle(() => {
      if (documentStore.getState().settled === settled)
        setTried({ fix: knownFix(settled, finding, unit), unit, of: settled })
    })
  }, [settled, isMoving, unit, id, measured, limit, severity])
  // Its words carry figures: in another unit they wait to be said anew.
  if (tried?.unit !== unit || !tried.fix) return null
  return { fix: tried.fix, isStale: isMoving || tried.of !== settled }
}
