import { useEffect } from 'react'
import { useStore } from 'zustand'
import { sameOrder } from '../../bender/layOut.ts'
import { sheetStore } from '../../store/sheetStore.ts'
import { useDocument } from '../useStore.ts'
import './bending.css'
import './bendingPages.css'
import { ChangedPage } from './ChangedPage.tsx'
import { OldSheetPage } from './OldSheetPage.tsx'
import { leadOfOrder, withOrder } from './progress.ts'
import { SheetOrderPage } from './SheetOrderPage.tsx'
import { StartPage } from './StartPage.tsx'
import { StepPage } from './StepPage.tsx'
import { takeUpLastRun, useBending } from './useBending.ts'

/** The bench: the run's start page, then one step a screen. Stands where the laying-out view stands. */
export function BendingView() {
  const document = useDocument(state => state.settled)
  useEffect(() => takeUpLastRun(document), [document])
  const bending = useBending()
  const old = useStore(sheetStore, state => state.old)
  const ofSheet = useStore(sheetStore, state => state.order)
  const wanted = bending && ofSheet?.runId === bending.run.id ? ofSheet.order : null
  const other = wanted !== null && bending !== null && !sameOrder(wanted, bending.progress.order)
  const inWork = bending !== null && bending.progress.figures !== null
  useEffect(() => {
    if (!wanted || (other && inWork)) return
    if (other) bending?.change(withOrder(leadOfOrder(wanted), wanted))
    sheetStore.setState({ order: null })
  }, [wanted, other, inWork, bending])
  if (!bending)
    return (
      <main className="bending-start">
        <p className="bending-empty">There is no run to bend yet. Lay one out first, or open a sample.</p>
      </main>
    )
  const { result, progress, changes } = bending
  if (old?.runId === bending.run.id) return <OldSheetPage old={old} tag={bending.run.tag} />
  if (wanted && other && inWork) return <SheetOrderPage bending={bending} order={wanted} />
  if (progress.screen === null || !result.ok) return <StartPage bending={bending} />
  if (changes.length > 0) return <ChangedPage bending={bending} programme={result.programme} />
  return (
    <StepPage
      document={document}
      programme={result.programme}
      progress={progress}
      kept={bending.kept}
      change={bending.change}
    />
  )
}
