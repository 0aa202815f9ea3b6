import type { RunEnd, SkidDocument } from '../../document/types.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { attachEnd } from './pointEdits.ts'

/** Which port an end is in, or that it is free; choosing another is one step. */
export function EndSelect(props: {
  document: SkidDocument
  runId: string
  end: 'A' | 'B'
  at: RunEnd
  done: (refused: string | null) => void
}) {
  const { document, runId, end, at, done } = props
  const value = at.kind === 'port' ? at.fitting : ''
  const missing = value !== '' && !document.fittings.some(f => f.id === value)
  return (
    <label className="end-select">
      <b>{end}</b>
      <span className="hidden-label">End {end} is attached to</span>
      <select
        value={value}
        title={at.kind === 'port' ? 'In this port' : 'Free end'}
        onChange={event =>
          done(applyEdit(`Attach end ${end}`, attachEnd(runId, end, event.currentTarget.value)))
        }
      >
        <option value="">free end</option>
        {missing && <option value={value}>missing: {value}</option>}
        {document.fittings.map(f => (
          <option key={f.id} value={f.id}>
            {f.name}
          </option>
        ))}
      </select>
    </label>
  )
}
