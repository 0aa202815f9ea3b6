import { useEffect, useId, useState } from 'react'
import { refuseField } from '../../store/cutStore.ts'
import type { QuantityKind } from '../fields/quantityKind.ts'
import { useTypedOver } from '../fields/useTypedOver.ts'
import '../fields/fields.css'

interface Props {
  readonly name: string
  readonly hideName?: boolean
  readonly kind: QuantityKind
  /** null shows `empty`. */
  readonly value: number | null
  /** What an empty field means; without it an empty field is refused. */
  readonly empty?: string
  /** Why a figure is not taken; null when it is. */
  readonly refuse: (value: number) => string | null
  readonly onChange: (value: number | null) => void
  readonly autoFocus?: boolean
}

/** A labelled figure that is no part of the document: applied on Enter or leaving, refused with the reason beside it. */
export function SettingField(props: Props) {
  const { name, hideName, kind, value, empty, refuse, onChange, autoFocus } = props
  const id = useId()
  const [text, setText] = useState<string | null>(null)
  const [reason, setReason] = useState('')
  const { input, onFocus } = useTypedOver(text)
  useEffect(() => {
    refuseField(id, reason !== '')
    return () => refuseField(id, false)
  }, [id, reason])
  const exact = value === null ? '' : kind.exact(value)
  const restore = () => {
    setText(null)
    setReason('')
  }
  const commit = () => {
    if (text === null || text.trim() === exact) return restore()
    if (text.trim() === '' && empty !== undefined) {
      restore()
      return onChange(null)
    }
    const read = kind.parse(text)
    const refused = read.ok ? refuse(read.value) : read.reason
    if (refused !== null) return setReason(refused)
    restore()
    if (read.ok) onChange(read.value)
  }
  return (
    <div className="field">
      <label htmlFor={id} className={hideName ? 'hidden-label' : 'field-name'}>
        {name}
      </label>
      <span className="field-box">
        <input
          ref={input}
          id={id}
          className="number"
          autoComplete="off"
          spellCheck={false}
          placeholder={empty}
          aria-invalid={reason !== ''}
          aria-describedby={reason ? `${id}-said` : undefined}
          // biome-ignore lint/a11y/noAutofocus: the row was just added by the person's own press
          autoFocus={autoFocus}
          value={text ?? (value === null ? '' : kind.show(value))}
          onFocus={() => {
            onFocus()
            setText(typed => typed ?? exact)
          }}
          onChange={event => {
            setText(event.currentTarget.value)
            setReason('')
          }}
          onBlur={commit}
          onKeyDown={event => {
            if (event.key === 'Enter') {
              event.preventDefault()
              commit()
            } else if (event.key === 'Escape' && text !== null && text !== exact) {
              // The dialog stays: this press is for the figure.
              event.preventDefault()
              event.stopPropagation()
              setText(exact)
              setReason('')
            }
          }}
        />
        {kind.unitWord && <span className="field-unit">{kind.unitWord}</span>}
      </span>
      {reason && (
        <span id={`${id}-said`} role="alert" className="field-reason">
          {reason}
        </span>
      )}
    </div>
  )
}
