import { Copy, Eye, EyeOff, Focus, Pencil, Scan, Trash2, X } from 'lucide-react'
import type { ReactNode } from 'react'
import { useStore } from 'zustand'
import type { SkidDocument } from '../../document/types.ts'
import {
  hideRuns,
  isolateRuns,
  pickedOf,
  pickNone,
  runSelectionStore,
  showAgain,
} from '../../store/runSelection.ts'
import { runIdOf, sessionStore } from '../../store/sessionStore.ts'
import { showDialog } from '../shell/dialogStore.ts'
import { useOneStop } from '../useOneStop.ts'
import { useSession } from '../useStore.ts'
import { deleteRuns, duplicate, fitRuns, namesOf } from './runActions.ts'
import type { RunRow } from './runRows.ts'

const ICON = { size: 14, 'aria-hidden': true } as const

/** What can be done with the picked runs, or with the selected one while none is picked. */
export function PickedBar(props: { document: SkidDocument; listed: readonly RunRow[] }) {
  const { document, listed } = props
  const { picked } = useStore(runSelectionStore)
  const isolated = useSession(s => s.hiddenBy.isolation !== null)
  const chosen = useSession(s => runIdOf(s.selection))
  const hidden = useSession(s => s.hiddenRuns)
  const actions = useOneStop<HTMLDivElement>()
  const several = pickedOf(document.runs, picked)
  const some = several.length > 0
  const runs = some ? several : document.runs.filter(r => r.id === chosen)
  if (runs.length === 0 && !isolated) return null
  const { say } = sessionStore.getState()
  const ids = runs.map(r => r.id)
  const names = namesOf(runs)
  const out = some ? several.length - listed.filter(r => picked.has(r.id)).length : 0
  const allHidden = ids.every(id => hidden.has(id))
  const act = (name: string, title: string, icon: ReactNode, run: () => void) => (
    <button type="button" title={title} onClick={run}>
      {icon} <span className="act-name">{name}</span>
    </button>
  )
  return (
    <div className={some ? 'picked-bar several' : 'picked-bar'}>
      {isolated && (
        <p>
          The other runs are hidden.{' '}
          <button
            type="button"
            className="bare"
            onClick={() => {
              showAgain()
              say('Only runs hidden before are hidden.')
            }}
          >
            Show them again
          </button>
        </p>
      )}
      {runs.length > 0 && (
        <>
          <div className="picked-head">
            <span>
              <b>{some ? `${names} selected` : `${names}:`}</b>
              {out > 0 && `, ${out} not in the list`}
            </span>
            {some && (
              <button
                type="button"
                className="icon"
                aria-label="Deselect all"
                title="Deselect all (Esc)"
                onClick={pickNone}
              >
                <X {...ICON} />
              </button>
            )}
          </div>
          <div className="picked-actions" role="toolbar" aria-label={`Actions for ${names}`} {...actions}>
            {act(
              allHidden ? 'Show' : 'Hide',
              allHidden ? `Show ${names} in 3D` : `Hide ${names} in 3D`,
              allHidden ? <Eye {...ICON} /> : <EyeOff {...ICON} />,
              () => hideRuns(ids, !allHidden),
            )}
            {act('Isolate', 'Hide all other runs', <Focus {...ICON} />, () => {
              isolateRuns(new Set(ids))
              say(`Only ${names} ${runs.length === 1 ? 'is' : 'are'} shown.`)
            })}
            {act('Zoom to', `${names} in view`, <Scan {...ICON} />, () => fitRuns(runs))}
            {some
              ? act('Change…', `Change ${names} together`, <Pencil {...ICON} />, () =>
                  showDialog({ kind: 'changeRuns', runs: ids }),
                )
              : act('Duplicate', `Duplicate ${names}`, <Copy {...ICON} />, () => duplicate(runs[0]!))}
            {act('Delete', `Delete ${names} (Delete)`, <Trash2 {...ICON} />, () => deleteRuns(runs))}
          </div>
        </>
      )}
    </div>
  )
}
