import { useEffect, useMemo, useState } from 'react'
import { useStore } from 'zustand'
import type { SkidDocument } from '../../document/types.ts'
import { clearanceStore } from '../../store/clearance.ts'
import { colouringStore } from '../../store/colouring.ts'
import { solvedById } from '../../store/derived.ts'
import { findingsByRun, findingsOf } from '../../store/findings.ts'
import { housingStore } from '../../store/housing.ts'
import { useSession, useShown } from '../useStore.ts'
import { acceptedOf, type Checked, type ColourGroup, colourGroups } from './groups.ts'

const NOTHING: Checked = { byRun: new Map(), complete: false, accepted: new Set() }

/** The groups that the tubes are coloured by now, kept up to date; none while all look the same. */
export function useColouring(): readonly ColourGroup[] {
  const by = useStore(colouringStore, s => s.by)
  const unit = useSession(s => s.unit)
  const document = useShown()
  const checked = useChecked(document, by === 'state')
  return useMemo(
    () => colourGroups(document, by, unit, solvedById(document), checked),
    [document, by, unit, checked],
  )
}

/** Findings of the document by run; not asked for, and not waited for, unless they are wanted. */
function useChecked(document: SkidDocument, wanted: boolean): Checked {
  const [answers, setAnswers] = useState(0)
  useEffect(() => {
    if (!wanted) return
    const count = () => setAnswers(n => n + 1)
    const stops = [clearanceStore.subscribe(count), housingStore.subscribe(count)]
    return () => {
      for (const stop of stops) stop()
    }
  }, [wanted])
  // biome-ignore lint/correctness/useExhaustiveDependencies: every answer of a worker may change what is found
  return useMemo(() => {
    if (!wanted) return NOTHING
    const { findings, complete, decisions } = findingsOf(document, clearanceStore.getState())
    return { byRun: findingsByRun(findings), complete, accepted: acceptedOf(decisions) }
  }, [document, wanted, answers])
}
