import { type ReactNode, useId, useRef } from 'react'
import { type DraftOptions, useDraft } from './useDraft.ts'
import { useTypedOver } from './useTypedOver.ts'
import './fields.css'

export interface QuantityFieldProps extends DraftOptions {
  /** What the field is called on screen. */
  readonly name: string
  readonly hideName?: boolean
  /** Why it cannot be changed; shown instead of an input that would refuse anyway. */
  readonly locked?: string | undefined
  readonly hint?: ReactNode
  readonly autoFocus?: boolean
  /** After Enter applied it or Escape restored it. */
  readonly onDone?: (how: 'applied' | 'restored') => void
}

/** A labelled field for one number: applied on Enter or leaving, refused with the reason beside it. */
export function QuantityField(props: QuantityFieldProps) {
  const { name, hideName, locked, hint, autoFocus, onDone, kind, value, unknown } = props
  const id = useId()
  const draft = useDraft(props)
  const unit = kind.unitWord
  const { input, onFocus } = useTypedOver(draft.text)
  const opening = useRef(false)
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
          inputMode="text"
          autoComplete="off"
          spellCheck={false}
          readOnly={locked !== undefined}
          title={locked}
          aria-invalid={draft.reason !== null}
          aria-describedby={draft.reason || locked || hint ? `${id}-said` : undefined}
          // biome-ignore lint/a11y/noAutofocus: opened by the person's own click or Enter
          autoFocus={autoFocus}
          value={draft.text ?? (unknown === undefined ? kind.show(value) : '')}
          placeholder={unknown}
          onFocus={() => {
            if (locked !== undefined) return
            draft.begin()
            onFocus()
            opening.current = true
          }}
          onMouseUp={event => {
            const { selectionStart, selectionEnd } = event.currentTarget
            if (opening.current && selectionStart === selectionEnd) event.currentTarget.select()
            opening.current = false
          }}
          onChange={event => draft.change(event.currentTarget.value)}
          onBlur={() => {
            draft.commit()
          }}
          onKeyDown={event => {
            if (event.key === 'Enter') {
              event.preventDefault()
              if (draft.commit()) {
                onDone?.('applied')
                requestAnimationFrame(() => {
                  // Selecting takes the focus: by then it may be in the next field, with text coming in.
                  if (document.activeElement === input.current) input.current?.select()
                })
              }
            } else if (event.key === 'Escape') {
              event.stopPropagation()
              draft.restore()
              onDone?.('restored')
              if (!onDone) event.currentTarget.blur()
            } else if ((event.key === 'ArrowUp' || event.key === 'ArrowDown') && locked === undefined) {
              event.preventDefault()
              draft.step(event.key === 'ArrowUp' ? 1 : -1, event)
            }
          }}
        />
        {unit && <span className="field-unit">{unit}</span>}
      </span>
      {draft.reason ? (
        <span id={`${id}-said`} role="alert" className="field-reason">
          {draft.reason}{' '}
          {draft.isAsking && (
            <button
              type="button"
              className="small"
              // The field keeps the focus: leaving it would ask again.
              onMouseDown={event => event.preventDefault()}
              onClick={() => draft.commit(true)}
            >
              Use it
            </button>
          )}
        </span>
      ) : (
        (locked || hint) && (
          <span id={`${id}-said`} className="field-hint">
            {locked ?? hint}
          </span>
        )
      )}
    </div>
  )
}
