import { type ReactNode, useId } from 'react'
import { type DraftOptions, useDraft } from './useDraft.ts'
import './fields.css'

export interface QuantityFieldProps extends DraftOptions {
  /** What the field is called on screen. */
  readonly name: string
  readonly hideName?: boolean
  /** Why it cannot be changed; shown instead of an input that would refuse anyway. */
  readonly locked?: string | undefined
  readonly hint?: ReactNode
  readonly autoFocus?: boolean
  /** After Enter applied it ('applied') or Escape dropped it ('left'). */
  readonly onDone?: (how: 'applied' | 'left') => void
}

/** A labelled field for one number: applied on Enter or leaving, refused with the reason beside it. */
export function QuantityField(props: QuantityFieldProps) {
  const { name, hideName, locked, hint, autoFocus, onDone, kind, value } = props
  const id = useId()
  const draft = useDraft(props)
  const unit = kind.unitWord
  return (
    <div className="field">
      <label htmlFor={id} className={hideName ? 'hidden-label' : 'field-name'}>
        {name}
      </label>
      <span className="field-box">
        <input
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
          value={draft.text ?? kind.show(value)}
          onFocus={event => {
            if (locked !== undefined) return
            draft.begin()
            const input = event.currentTarget
            requestAnimationFrame(() => input.select())
          }}
          onChange={event => draft.change(event.currentTarget.value)}
          onBlur={() => {
            if (draft.text !== null && draft.commit()) onDone?.('left')
          }}
          onKeyDown={event => {
            if (event.key === 'Enter') {
              event.preventDefault()
              if (draft.commit()) {
                onDone?.('applied')
                draft.begin()
              }
            } else if (event.key === 'Escape') {
              event.stopPropagation()
              draft.restore()
              onDone?.('left')
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
          {draft.reason}
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
