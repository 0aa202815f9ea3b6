import { useId, useRef, useState } from 'react'
import type { Vec3 } from '../../geometry/vec3.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useOneStop } from '../useOneStop.ts'
import { applyEdit, type Edit } from './applyEdit.ts'
import { directionText, readDirection } from './readDirection.ts'

const ALONG: readonly { readonly word: string; readonly way: Vec3 }[] = [
  { word: '+X', way: [1, 0, 0] },
  { word: '−X', way: [-1, 0, 0] },
  { word: '+Y', way: [0, 1, 0] },
  { word: '−Y', way: [0, -1, 0] },
  { word: '+Z', way: [0, 0, 1] },
  { word: '−Z', way: [0, 0, -1] },
]

interface Props {
  readonly name: string
  readonly value: Vec3
  readonly label: string
  readonly edit: (value: Vec3) => Edit
}

/** A direction, taken as a whole: typed, or one of the axes by its button. */
export function DirectionField({ name, value, label, edit }: Props) {
  const id = useId()
  const [text, setText] = useState<string | null>(null)
  const [reason, setReason] = useState<string | null>(null)
  const buttons = useOneStop<HTMLDivElement>()
  const opened = useRef('')
  /** Being left by Escape: what is typed is given up, not taken. */
  const left = useRef(false)
  const take = (to: Vec3) => {
    const refused = applyEdit(label, edit(to))
    setReason(refused)
    if (refused === null) setText(null)
    else sessionStore.getState().say(`${label}: ${refused}`)
  }
  const commit = () => {
    if (text === null) return
    // As it was opened: what is shown rounded stays exact.
    if (text === opened.current) {
      setText(null)
      return setReason(null)
    }
    const read = readDirection(text)
    if (read.ok) return take(read.value)
    setReason(read.reason)
    sessionStore.getState().say(`${label}: ${read.reason}`)
  }
  return (
    <fieldset className="direction">
      <legend>{name}</legend>
      <input
        aria-label={`${name}: x, y, z`}
        autoComplete="off"
        spellCheck={false}
        value={text ?? directionText(value)}
        aria-invalid={reason !== null}
        aria-describedby={reason ? `${id}-said` : undefined}
        onFocus={event => {
          if (text !== null) return
          opened.current = directionText(value)
          setText(opened.current)
          event.currentTarget.select()
        }}
        onChange={event => {
          setText(event.currentTarget.value)
          setReason(null)
        }}
        onBlur={() => {
          if (!left.current) commit()
        }}
        onKeyDown={event => {
          if (event.key === 'Enter') {
            event.preventDefault()
            commit()
          } else if (event.key === 'Escape') {
            event.stopPropagation()
            setText(null)
            setReason(null)
            left.current = true
            event.currentTarget.blur()
            left.current = false
          }
        }}
      />
      <div className="direction-axes" role="toolbar" aria-label={`${name}: along an axis`} {...buttons}>
        {ALONG.map(({ word, way }) => (
          <button
            key={word}
            type="button"
            aria-pressed={way.every((v, k) => v === value[k])}
            onClick={() => take(way)}
          >
            {word}
          </button>
        ))}
      </div>
      {reason && (
        <span id={`${id}-said`} role="alert" className="field-reason">
          {reason}
        </span>
      )}
    </fieldset>
  )
}
