import { useEffect, useId, useRef } from 'react'

interface Props {
  readonly name: string
  readonly unit: string
  readonly value: string
  readonly reason: string | null
  change(value: string): void
  /** Enter on a keyboard. */
  done(): void
}

const KEYS = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '0', '.', '⌫'] as const

/** A field for one figure with keys large enough for a glove; a keyboard works as well. */
export function NumberPad({ name, unit, value, reason, change, done }: Props) {
  const id = useId()
  const input = useRef<HTMLInputElement>(null)
  useEffect(() => input.current?.focus({ preventScroll: true }), [])
  const press = (key: string) => {
    if (key === '⌫') change(value.slice(0, -1))
    else if (key === '.' && value.includes('.')) return
    else change(value + key)
  }
  return (
    <div className="bending-pad">
      <label htmlFor={id}>{name}</label>
      <span className="padShows">
        <input
          id={id}
          ref={input}
          inputMode="none"
          autoComplete="off"
          value={value}
          placeholder="—"
          aria-invalid={reason !== null}
          aria-describedby={reason ? `${id}-said` : undefined}
          onChange={event => change(event.currentTarget.value)}
          onKeyDown={event => {
            if (event.key === 'Enter') done()
          }}
        />
        <span className="padUnit">{unit}</span>
      </span>
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
