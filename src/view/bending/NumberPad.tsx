import { useEffect, useId, useRef } from 'react'

export interface PadField {
  readonly key: string
  readonly name: string
  readonly value: string
}

interface Props {
  readonly unit: string
  readonly fields: readonly PadField[]
  /** Key of the field that the keys write into. */
  readonly active: string
  readonly reason: string | null
  choose(key: string): void
  change(key: string, value: string): void
  /** Enter on a keyboard. */
  done(): void
}

const KEYS = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '0', '.', '⌫'] as const

/** Fields for the figures of one screen with keys large enough for a glove; a keyboard works as well. */
export function NumberPad({ unit, fields, active, reason, choose, change, done }: Props) {
  const id = useId()
  const inputs = useRef(new Map<string, HTMLInputElement>())
  useEffect(() => inputs.current.get(active)?.focus({ preventScroll: true }), [active])
  const value = fields.find(f => f.key === active)?.value ?? ''
  const press = (key: string) => {
    if (key === '⌫') change(active, value.slice(0, -1))
    else if (key === '.' && value.includes('.')) return
    else change(active, value + key)
  }
  return (
    <div className="bending-pad">
      <div className="padFields">
        {fields.map(f => (
          <div key={f.key} className={f.key === active ? 'padField active' : 'padField'}>
            <label htmlFor={`${id}-${f.key}`}>{f.name}</label>
            <span className="padShows">
              <input
                id={`${id}-${f.key}`}
                ref={element => {
                  if (element) inputs.current.set(f.key, element)
                  else inputs.current.delete(f.key)
                }}
                inputMode="none"
                autoComplete="off"
                value={f.value}
                placeholder="—"
                aria-invalid={reason !== null && f.key === active}
                aria-describedby={reason ? `${id}-said` : undefined}
                onFocus={() => choose(f.key)}
                onChange={event => change(f.key, event.currentTarget.value)}
                onKeyDown={event => {
                  if (event.key !== 'Enter') return
                  // Else the same press answers the question that may stand here a moment later.
                  event.preventDefault()
                  done()
                }}
              />
              <span className="padUnit">{unit}</span>
            </span>
          </div>
        ))}
      </div>
      <div className="padKeys">
        {KEYS.map(key => (
          <button
            key={key}
            type="button"
            aria-label={key === '⌫' ? 'delete last' : key}
            onClick={() => press(key)}
          >
            {key}
          </button>
        ))}
      </div>
      {reason && (
        <p id={`${id}-said`} role="alert" className="padReason">
          {reason}
        </p>
      )}
    </div>
  )
}
