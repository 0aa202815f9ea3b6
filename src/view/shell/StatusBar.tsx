import { useStore } from 'zustand'
import { documentStore } from '../../store/documentStore.ts'
import { downloadDocument } from '../../store/files.ts'
import { type SavingState, savingStore } from '../../store/savingStore.ts'
import { useDocument, useSession } from '../useStore.ts'
import { dialogStore } from './dialogStore.ts'
import { FindingCounts } from './FindingCounts.tsx'

const clock = (at: number) => new Date(at).toLocaleTimeString(undefined, { timeStyle: 'medium' })

function savedText(saving: SavingState, inFile: boolean): string {
  const file = inFile && saving.fileName ? `In file “${saving.fileName}”` : ''
  switch (saving.keeping.kind) {
    case 'refused':
      return file || `Not kept: ${saving.keeping.reason}`
    case 'underWay':
      return 'Keeping…'
    case 'unchanged':
      return file || 'Nothing to keep yet'
    case 'kept':
      return `${file ? `${file}, kept` : 'Kept'} in this browser at ${clock(saving.keeping.at)}`
  }
}

/** The line along the bottom: what was just done, where the work is kept, how it is drawn. */
export function StatusBar() {
  const said = useSession(state => state.said)
  const detail = useSession(state => state.detail)
  const saving = useStore(savingStore)
  const inFile = useDocument(state => state.savedToFile === state.settled)
  const hintRead = useStore(dialogStore, state => state.hintRead)
  const refused = saving.keeping.kind === 'refused' && !inFile

  return (
    <footer className="statusBar">
      {!hintRead && (
        <p className="hint">
          <span>
            Click a bend, a straight or a row: it lights up everywhere. Change a figure in a table or on the
            unrolled tube and the tube follows.
          </span>
          <button type="button" onClick={() => dialogStore.setState({ hintRead: true })}>
            Got it
          </button>
        </p>
      )}
      <div className="statusLine">
        <output className="said" aria-live="polite">
          {said}
        </output>
        <FindingCounts />
        {detail === 'plain' && <span className="chip">plain detail</span>}
        {saving.ownCopy && (
          <span className="chip" title="Another tab has this skid open: this tab works on a copy of its own">
            own copy
          </span>
        )}
        <span className={refused ? 'saved refused' : 'saved'}>
          {refused && <span aria-hidden="true">⚠ </span>}
          {savedText(saving, inFile)}
        </span>
        {refused && (
          <button type="button" onClick={() => downloadDocument(documentStore.getState().settled)}>
            Download the skid
          </button>
        )}
      </div>
    </footer>
  )
}
