import { useEffect, useMemo, useState } from 'react'
import { useStore } from 'zustand'
import type { Exemption, exemptionsOf } from '../../skid/exemptions.ts'
import { solvedRuns } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { meshBodiesOf } from '../../store/meshBodies.ts'
import { modelStore } from '../../store/modelStore.ts'
import { runIdOf, sessionStore } from '../../store/sessionStore.ts'

const NONE: readonly Exemption[] = []

/** The exemptions of what is selected or under review: a run, a port, the two parts of a gap. Of the settled document. */
export function useExemptions(): readonly Exemption[] {
  const document = useStore(documentStore, s => s.settled)
  const selection = useStore(sessionStore, s => s.selection)
  const gap = useStore(sessionStore, s => s.gap)
  const models = useStore(modelStore, s => s.states)
  const run = runIdOf(selection)
  const fitting = selection?.kind === 'fitting' ? selection.fitting : null
  const between = gap?.between
  const isAsked = run !== null || fitting !== null || between !== undefined
  // What measures bodies is loaded with the first question.
  const [find, setFind] = useState<typeof exemptionsOf | null>(null)
  useEffect(() => {
    if (!isAsked || find !== null) return
    let stopped = false
    import('../../skid/exemptions.ts').then(
      module => stopped || setFind(() => module.exemptionsOf),
      () => {},
    )
    return () => {
      stopped = true
    }
  }, [isAsked, find])
  // biome-ignore lint/correctness/useExhaustiveDependencies: which models are read decides what a port stands on
  return useMemo(() => {
    if (!isAsked || find === null) return NONE
    const isWanted = (id: string) =>
      id === run || (between?.includes(id) ?? false) || (fitting !== null && endsIn(id))
    const endsIn = (id: string) => {
      const found = document.runs.find(r => r.id === id)
      return [found?.endA, found?.endB].some(e => e?.kind === 'port' && e.fitting === fitting)
    }
    const all = find(document, solvedRuns(document), meshBodiesOf(document).bodies, isWanted)
    return all.filter(e => e.run === run || between?.includes(e.run) || e.fitting === fitting)
  }, [document, run, fitting, between, models, find])
}
