import { useId, useState } from 'react'
import { applyEdit, type Edit } from './applyEdit.ts'

export interface Choice {
  readonly value: string
  readonly text: string
}
interface Props {
  readonly name: string
  readonly hideName?: boolean
  readonly value: string
  readonly choices: readonly Choice[]
  readonly label: string
  readonly edit: (value: string) => Edit
}

/** A labelled choice out of a list; the choice is applied at once. */
export function SelectField({ name, hideName, value, choices, label, edit }: Props) {
  const id = useId()
  const [reason, setReason] = useState<string | null>(null)
  return (
    <div className="field">
      <label htmlFor={id} className={hideName ? 'hidden-label' : 'field-name'}>
        {name}
      </label>
      <span className="field-box">
        <select
          id={id}
          value={value}
          aria-invalid={reason !== null}
          aria-describedby={reason ? `${id}-said` : undefined}
          onChange={event => setReason(applyEdit(label, edit(event.currentTarget.value)))}
        >
          {choices.map(c => (
            <option key={c.value} value={c.value}>
              {c.text}
            </option>
          ))}
        </select>
      </span>
      {reason && (
        <span id={`${id}-said`} role="alert" className="field-reason">
          {reason}
        </span>
      )}
    </div>
  )
}
