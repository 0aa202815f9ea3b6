import { useStore } from 'zustand'
import { visibleText } from '../../document/visibleText.ts'
import { documentStore } from '../../store/documentStore.ts'
import { downloadDocument } from '../../store/files.ts'
import { type SavingState, savingStore } from '../../store/savingStore.ts'
import { type Mode, sessionStore } from '../../store/sessionStore.ts'
import { askForPromise } from '../../store/storagePromise.ts'
import { useDocument, useSession } from '../useStore.ts'
import { dialogStore } from './dialogStore.ts'
import { FindingCounts } from './FindingCounts.tsx'
import { spokenStore } from './spokenStore.ts'

const clock = (at: number) => new Date(at).toLocaleTimeString(undefined, { timeStyle: 'medium' })

function savedText(saving: SavingState, inFile: boolean): string {
  const file = inFile && saving.fileName ? `In file “${visibleText(saving.fileName)}”` : ''
  switch (saving.keeping.kind) {
    case 'refused':
      return file || `Not saved: ${saving.keeping.reason}`
    case 'underWay':
      return 'Saving…'
    case 'unchanged':
      return file || 'Nothing to save yet'
    case 'kept':
      return `${file ? `${file}, saved` : 'Saved'} in this browser at ${clock(saving.keeping.at)}`
  }
}

async function askToKeep(): Promise<void> {
  const isPromised = await askForPromise()
  sessionStore
    .getState()
    .say(
      isPromised
        ? 'The browser keeps it until you remove it.'
        : 'The browser may delete it. Save the skid to a file to be sure.',
    )
}

/** One thing to begin with in each view. */
const HINTS: Record<Mode, string> = {
  layingOut:
    'Click a bend, a straight or a row: it lights up everywhere. Change a figure in a table or on the unrolled tube, and the tube follows.',
  bending: 'Choose the run and the order of its bends, then press “Start bending”: one step a screen.',
  reviewing:
    'Click a finding: the view goes to it. Accept it with a reason and your name, or try one of its possible fixes.',
}

/** The line along the bottom: what was just done, where the work is kept, how it is drawn. */
export function StatusBar() {
  const said = useSession(state => state.said)
  const spoken = useStore(spokenStore)
  const detail = useSession(state => state.detail)
  const saving = useStore(savingStore)
  const inFile = useDocument(state => state.savedToFile === state.settled)
  const mode = useSession(state => state.mode)
  const hintRead = useStore(dialogStore, state => state.hintRead)
  const refused = saving.keeping.kind === 'refused' && !inFile

  const mayBeCleared =
    saving.keeping.kind === 'kept' && saving.isChanged && !inFile && saving.isPromised === false

  return (
    <footer className="statusBar">
      {!hintRead && (
        <p className="hint">
          <span>{HINTS[mode]}</span>
          <button type="button" onClick={() => dialogStore.setState({ hintRead: true })}>
            Got it
          </button>
        </p>
      )}
      <div className="statusLine">
        <span className="said">{said}</span>
        <output className="spoken hidden-label" aria-live="polite" aria-atomic="true">
          {spoken.text}
        </output>
        <FindingCounts />
        {detail === 'plain' && <span className="chip">plain detail</span>}
        {saving.ownCopy && (
          <span className="chip" title="Another tab has this skid open: this tab works on its own copy">
            own copy
          </span>
        )}
        <span className={refused ? 'saved refused' : 'saved'}>
          {refused && <span aria-hidden="true">⚠ </span>}
          {savedText(saving, inFile)}
        </span>
        {mayBeCleared && (
          <button
            type="button"
            className="small"
            title="This browser may clear its storage when the disk runs short, or after weeks without a visit. Press to ask it not to; a file is not affected."
            onClick={() => void askToKeep()}
          >
            The browser may clear it
          </button>
        )}
        {refused && (
          <button type="button" onClick={() => downloadDocument(documentStore.getState().settled)}>
            Download the skid
          </button>
        )}
      </div>
    </footer>
  )
}
