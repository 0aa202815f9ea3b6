import { useId, useState } from 'react'
import { exactLength, formatLength, parseLength } from '../../document/quantity.ts'
import { lengthStep, lengthUnitWord } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'

interface Props {
  readonly name: string
  /** mm. */
  readonly value: number
  readonly onChange: (mm: number) => void
}

/** A length that no document holds: taken on Enter or on leaving, or refused with the reason; arrows step it. */
export function SessionLength({ name, value, onChange }: Props) {
  const id = useId()
  const unit = useSession(s => s.unit)
  const [typed, setTyped] = useState<string | null>(null)
  const [refused, setRefused] = useState('')
  const take = () => {
    if (typed === null) return
    const parsed = parseLength(typed, unit)
    if (!parsed.ok) return setRefused(parsed.reason)
    setTyped(null)
    setRefused('')
    // Only what was changed is taken: the figure shown may be rounded.
    if (typed !== exactLength(value, unit)) onChange(parsed.mm)
  }
  return (
    <div className="lookRow">
      <label htmlFor={id}>{name}</label>
      <span className="lookLength">
        <input
          id={id}
          className="number"
          inputMode="text"
          autoComplete="off"
          size={8}
          value={typed ?? formatLength(value, unit)}
          aria-invalid={refused !== ''}
          aria-describedby={refused ? `${id}r` : undefined}
          onFocus={event => {
            setTyped(exactLength(value, unit))
            const input = event.currentTarget
            requestAnimationFrame(() => document.activeElement === input && input.select())
          }}
          onChange={event => {
            setRefused('')
            setTyped(event.target.value)
          }}
          onBlur={take}
          onKeyDown={event => {
            if (event.key === 'Enter') {
              event.preventDefault()
              take()
            } else if (event.key === 'Escape') {
              event.stopPropagation()
              event.preventDefault()
              setTyped(null)
              setRefused('')
              event.currentTarget.blur()
            } else if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
              event.preventDefault()
              const step = lengthStep(unit) * (event.shiftKey ? 10 : 1)
              const next = Number((value + (event.key === 'ArrowUp' ? step : -step)).toPrecision(12))
              setTyped(exactLength(next, unit))
              setRefused('')
              onChange(next)
            }
          }}
        />
        {lengthUnitWord(unit)}
      </span>
      {refused && (
        <span id={`${id}r`} role="alert" className="lookRefused">
          {refused}
        </span>
      )}
    </div>
  )
}
