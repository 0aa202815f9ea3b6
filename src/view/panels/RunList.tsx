import { Plus } from 'lucide-react'
import { useMemo, useState } from 'react'
import { useStore } from 'zustand'
import { solvedById } from '../../store/derived.ts'
import { findingsByRun } from '../../store/findings.ts'
import { runListStore, showWholeList } from '../../store/runListStore.ts'
import { useFindings } from '../useFindings.ts'
import { useSession } from '../useStore.ts'
import { NewRun } from './NewRun.tsx'
import { PickedBar } from './PickedBar.tsx'
import { RunRows } from './RunRows.tsx'
import { RunTools } from './RunTools.tsx'
import { runRows, shownRows } from './runRows.ts'
import './panels.css'
import './runList.css'

/** With fewer runs nobody needs to look for one. */
const FEW = 5

/** All runs: tag, service, size, length, bends and state; the way to find, pick, hide, add, copy, change and delete them. */
export function RunList() {
  const unit = useSession(state => state.unit)
  const [adding, setAdding] = useState(false)
  const { document, findings, complete } = useFindings()
  const wanted = useStore(runListStore)
  const all = useMemo(
    () => runRows(document, solvedById(document), { byRun: findingsByRun(findings), complete }, unit),
    [document, findings, complete, unit],
  )
  const looking = wanted.text.trim() !== '' || wanted.state !== null
  const withTools = all.length > FEW || looking
  const rows = useMemo(() => (withTools ? shownRows(all, wanted) : all), [all, wanted, withTools])
  return (
    <div className="run-panel">
      <header className="panel-head">
        <h2>Runs</h2>
        <span className="quiet" aria-live="polite">
          {rows.length === all.length ? all.length : `${rows.length} of ${all.length}`}
        </span>
        <button type="button" className="small" aria-expanded={adding} onClick={() => setAdding(!adding)}>
          <Plus size={14} aria-hidden /> Run
        </button>
      </header>
      {adding && <NewRun document={document} onDone={() => setAdding(false)} />}
      {withTools && <RunTools rows={rows} />}
      {all.length === 0 && <p className="empty">No runs yet. Add one between two ports.</p>}
      {all.length > 0 && rows.length === 0 && (
        <p className="empty">
          No run is like that.{' '}
          <button type="button" className="bare" onClick={showWholeList}>
            Show all
          </button>
        </p>
      )}
      {rows.length > 0 && <RunRows rows={rows} />}
      <PickedBar document={document} listed={rows} />
    </div>
  )
}
