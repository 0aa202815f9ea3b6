import { useEffect } from 'react'
import { useStore } from 'zustand'
import { sheetStore } from '../../store/sheetStore.ts'
import { useDocument } from '../useStore.ts'
import './bending.css'
import { ChangedPage } from './ChangedPage.tsx'
import { OldSheetPage } from './OldSheetPage.tsx'
import { StartPage } from './StartPage.tsx'
import { StepPage } from './StepPage.tsx'
import { takeUpLastRun, useBending } from './useBending.ts'

/** The bench: the run's start page, then one step a screen. Stands where the laying-out view stands. */
export function BendingView() {
  const document = useDocument(state => state.settled)
  useEffect(() => takeUpLastRun(document), [document])
  const bending = useBending()
  const old = useStore(sheetStore, state => state.old)
  if (!bending)
    return (
      <main className="bending-start">
        <p className="bending-empty">There is no run to bend yet. Lay one out first, or open a sample.</p>
      </main>
    )
  const { result, progress, changes } = bending
  if (old?.runId === bending.run.id) return <OldSheetPage old={old} tag={bending.run.tag} />
  if (progress.screen === null || !result.ok) return <StartPage bending={bending} />
  if (changes.length > 0) return <ChangedPage bending={bending} programme={result.programme} />
  return (
    <StepPage programme={result.programme} progress={progress} kept={bending.kept} change={bending.change} />
  )
}
