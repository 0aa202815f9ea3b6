import { useId, useState } from 'react'
import { applyEdit, type Edit } from './applyEdit.ts'

interface Props {
  readonly name: string
  readonly value: string
  readonly label: string
  readonly edit: (value: string) => Edit
  readonly lines?: number
  readonly suggestions?: readonly string[]
}

/** A labelled line of text (or a few): applied on Enter or leaving, refused with the reason beside it. */
export function TextField({ name, value, label, edit, lines = 1, suggestions }: Props) {
  const id = useId()
  const [text, setText] = useState<string | null>(null)
  const [reason, setReason] = useState<string | null>(null)
  const commit = () => {
    if (text === null) return
    const refused = text === value ? null : applyEdit(label, edit(text))
    setReason(refused)
    if (refused === null) setText(null)
  }
  const shared = {
    id,
    value: text ?? value,
    'aria-invalid': reason !== null,
    'aria-describedby': reason ? `${id}-said` : undefined,
    onBlur: commit,
    onKeyDown: (event: React.KeyboardEvent<HTMLInputElement | HTMLTextAreaElement>) => {
      if (event.key === 'Enter' && (lines === 1 || event.ctrlKey || event.metaKey)) {
        event.preventDefault()
        commit()
      } else if (event.key === 'Escape') {
        event.stopPropagation()
        setText(null)
        setReason(null)
      }
    },
  }
  return (
    <div className={lines > 1 ? 'field tall' : 'field'}>
      <label htmlFor={id} className="field-name">
        {name}
      </label>
      <span className="field-box">
        {lines > 1 ? (
          <textarea {...shared} rows={lines} onChange={event => setText(event.currentTarget.value)} />
        ) : (
          <input
            {...shared}
            autoComplete="off"
            list={suggestions ? `${id}-list` : undefined}
            onChange={event => setText(event.currentTarget.value)}
          />
        )}
        {suggestions && (
          <datalist id={`${id}-list`}>
            {suggestions.map(s => (
              <option key={s} value={s} />
            ))}
          </datalist>
        )}
      </span>
      {reason && (
        <span id={`${id}-said`} role="alert" className="field-reason">
          {reason}
        </span>
      )}
    </div>
  )
}
