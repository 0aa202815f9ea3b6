import { useId, useRef } from 'react'
import { type DraftOptions, useDraft } from './useDraft.ts'
import { type GridCell, nextEditable } from './useGrid.ts'

interface Props extends DraftOptions {
  /** What the figure is, for screen readers: "Point 2, X". */
  readonly name: string
  readonly cell: GridCell
  readonly locked?: string | undefined
  readonly className?: string
}

/**
 * A figure in a grid. Enter, F2, a second click or typing opens it; Enter applies and goes down, Tab applies and
 * opens the next, Escape restores; refused text stays with its reason.
 */
export function QuantityCell(props: Props) {
  const { name, cell, locked, className = '', kind, value } = props
  const draft = useDraft(props)
  const td = useRef<HTMLTableCellElement>(null)
  const id = useId()
  const wasFocused = useRef(false)
  const leave = (to: HTMLElement | null) => queueMicrotask(() => to?.focus())
  return (
    // biome-ignore lint/a11y/useFocusableInteractive: tabIndex comes with the cell
    <td
      ref={td}
      // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: the ARIA grid pattern on a real table
      role="gridcell"
      {...cell}
      {...(locked === undefined ? { 'data-editable': '' } : {})}
      className={`number ${className} ${locked === undefined ? '' : 'locked'}`}
      aria-readonly={locked !== undefined}
      aria-label={`${name}: ${kind.show(value)}${locked ? `. ${locked}` : ''}`}
      title={locked}
      onPointerDown={() => {
        wasFocused.current = document.activeElement === td.current
      }}
      onClick={() => {
        if (locked === undefined && wasFocused.current) draft.begin()
      }}
      onDoubleClick={() => {
        if (locked === undefined) draft.begin()
      }}
      onKeyDown={event => {
        if (event.target !== td.current || locked !== undefined) return
        const typed = event.key.length === 1 && /[-+.\d(]/.test(event.key)
        if (event.ctrlKey || event.metaKey) return
        if (event.key === 'Enter' || event.key === 'F2' || typed) {
          event.preventDefault()
          draft.begin(typed ? event.key : undefined)
        }
      }}
    >
      {draft.text === null ? (
        kind.show(value)
      ) : (
        <>
          <input
            className="cell-input number"
            aria-label={name}
            aria-invalid={draft.reason !== null}
            aria-describedby={draft.reason ? `${id}-said` : undefined}
            // biome-ignore lint/a11y/noAutofocus: opened by the person's own key or click
            autoFocus
            autoComplete="off"
            spellCheck={false}
            value={draft.text}
            onFocus={event => {
              if (draft.text !== null && draft.text.length > 1) event.currentTarget.select()
            }}
            onChange={event => draft.change(event.currentTarget.value)}
            onBlur={() => draft.commit()}
            onKeyDown={event => {
              if (event.key === 'Enter') {
                event.preventDefault()
                if (!draft.commit()) return
                const below = td.current?.parentElement?.nextElementSibling?.querySelector<HTMLElement>(
                  `[data-col="${cell['data-col']}"]`,
                )
                leave(event.shiftKey || !below ? td.current : below)
              } else if (event.key === 'Escape') {
                event.stopPropagation()
                draft.restore()
                leave(td.current)
              } else if (event.key === 'Tab') {
                const next = td.current && nextEditable(td.current, event.shiftKey)
                if (!draft.commit()) event.preventDefault()
                else if (next) {
                  event.preventDefault()
                  queueMicrotask(() => {
                    next.focus()
                    next.dispatchEvent(new KeyboardEvent('keydown', { key: 'F2', bubbles: true }))
                  })
                }
              } else if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
                event.preventDefault()
                draft.step(event.key === 'ArrowUp' ? 1 : -1, event)
              }
            }}
          />
          {draft.reason && (
            <span
              id={`${id}-said`}
              role="alert"
              className="cell-reason"
              ref={reason => reason?.scrollIntoView({ block: 'nearest' })}
            >
              {draft.reason}
            </span>
          )}
        </>
      )}
    </td>
  )
}
