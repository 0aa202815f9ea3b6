import { useState } from 'react'
import type { SkidDocument } from '../../document/types.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { addNewRun } from './addNewRun.ts'

/** Adds a run from one port to another, or with free ends. */
export function NewRun({ document, onDone }: { document: SkidDocument; onDone: () => void }) {
  const used = new Set(
    document.runs.flatMap(r => [r.endA, r.endB].flatMap(e => (e.kind === 'port' ? [e.fitting] : []))),
  )
  const unused = document.fittings.filter(f => !used.has(f.id))
  const [from, setFrom] = useState(unused[0]?.id ?? '')
  const [to, setTo] = useState(unused[1]?.id ?? '')
  const [reason, setReason] = useState<string | null>(null)
  const ports = (
    <>
      <option value="">free end</option>
      {document.fittings.map(f => (
        <option key={f.id} value={f.id}>
          {f.name}
          {used.has(f.id) ? ' (in use)' : ''}
        </option>
      ))}
    </>
  )
  return (
    <form
      className="new-run"
      aria-label="Add a run"
      onSubmit={event => {
        event.preventDefault()
        if (from !== '' && from === to) {
          setReason('A run cannot go from a port to the same port.')
          return
        }
        let id = ''
        const refused = applyEdit('Add a run', settled => {
          const made = addNewRun(settled, from, to)
          id = made.run.id
          return made.document
        })
        if (refused) return setReason(refused)
        sessionStore.getState().select({ kind: 'run', run: id })
        sessionStore.getState().look({ kind: 'fitSelection' })
        onDone()
      }}
    >
      <label>
        From
        <select value={from} onChange={event => setFrom(event.currentTarget.value)}>
          {ports}
        </select>
      </label>
      <label>
        To
        <select value={to} onChange={event => setTo(event.currentTarget.value)}>
          {ports}
        </select>
      </label>
      {reason && (
        <p role="alert" className="field-reason">
          {reason}
        </p>
      )}
      <div className="new-run-actions">
        <button type="submit" className="primary">
          Add
        </button>
        <button type="button" onClick={onDone}>
          Cancel
        </button>
      </div>
    </form>
  )
}
