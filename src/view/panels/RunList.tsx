import { Plus } from 'lucide-react'
import { lazy, Suspense, useMemo, useState } from 'react'
import { useStore } from 'zustand'
import { solvedById } from '../../store/derived.ts'
import { findingsByRun } from '../../store/findings.ts'
import { runListStore, showWholeList } from '../../store/runListStore.ts'
import { runSelectionStore } from '../../store/runSelection.ts'
import { runIdOf } from '../../store/sessionStore.ts'
import { acceptedOf } from '../colouring/groups.ts'
import { useFindings } from '../useFindings.ts'
import { useSession } from '../useStore.ts'
import { RunRows } from './RunRows.tsx'
import { runRows, shownRows } from './runRows.ts'
import './panels.css'
import './runList.css'

/** Loaded when first needed: the first tube is seen without them. */
import { NewRun } from './NewRun.tsx'

const PickedBar = lazy(async () => ({ default: (await import('./PickedBar.tsx')).PickedBar }))
const RunTools = lazy(async () => ({ default: (await import('./RunTools.tsx')).RunTools }))

/** With fewer runs nobody needs to look for one. */
const FEW = 5

/** All runs: tag, service, size, length, bends and state; the way to find, pick, hide, add, copy, change and delete them. */
export function RunList() {
  const unit = useSession(state => state.unit)
  const chosen = useSession(state => runIdOf(state.selection) !== null)
  const isolated = useSession(state => state.hiddenBy.isolation !== null)
  const some = useStore(runSelectionStore, s => s.picked.size > 0) || isolated
  const [adding, setAdding] = useState(false)
  const { document, findings, complete, decisions } = useFindings()
  const wanted = useStore(runListStore)
  const all = useMemo(() => {
    const checked = { byRun: findingsByRun(findings), complete, accepted: acceptedOf(decisions) }
    return runRows(document, solvedById(document), checked, unit)
  }, [document, findings, complete, decisions, unit])
  const looking = wanted.text.trim() !== '' || wanted.state !== null
  const withTools = all.length > FEW || looking
  const rows = useMemo(() => (withTools ? shownRows(all, wanted) : all), [all, wanted, withTools])
  return (
    <div className="run-panel">
      <header className="panel-head">
        <h2>Runs</h2>
        <span className="quiet">
          {rows.length === all.length ? all.length : `${rows.length} of ${all.length}`}
        </span>
        <button type="button" className="small" aria-expanded={adding} onClick={() => setAdding(!adding)}>
          <Plus size={14} aria-hidden /> Run
        </button>
      </header>
      {adding && <NewRun document={document} onDone={() => setAdding(false)} />}
      <Suspense fallback={null}>{withTools && <RunTools rows={rows} />}</Suspense>
      {all.length === 0 && <p className="empty">No runs yet. Add one between two ports.</p>}
      {all.length > 0 && rows.length === 0 && (
        <p className="empty">
          No matching runs: {all.length === 1 ? '1 run is' : `${all.length} runs are`} not listed.{' '}
          <button type="button" className="bare" onClick={showWholeList}>
            Show all
          </button>
        </p>
      )}
      {rows.length > 0 && <RunRows rows={rows} />}
      <Suspense fallback={null}>
        {(chosen || some) && <PickedBar document={document} listed={rows} />}
      </Suspense>
    </div>
  )
}
