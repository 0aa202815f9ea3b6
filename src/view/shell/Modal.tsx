import { type ReactNode, useEffect, useId, useRef } from 'react'
import { showDialog } from './dialogStore.ts'

const CONTROL = ':is(a[href], button, input, select, textarea, [tabindex]):not(:disabled)'

/** A modal dialog with a title and a way out; Escape closes it, the focus goes back where it was. */
export function Modal(props: { title: string; children: ReactNode; buttons?: ReactNode; wayOut?: string }) {
  const ref = useRef<HTMLDialogElement>(null)
  const id = useId()
  useEffect(() => {
    const before = document.activeElement
    const dialog = ref.current
    if (dialog && !dialog.open) {
      dialog.showModal()
      // A browser may take a stretch that scrolls for the first thing in it: what can be used is meant.
      if (!document.activeElement?.matches(CONTROL)) dialog.querySelector<HTMLElement>(CONTROL)?.focus()
    }
    return () => {
      dialog?.close()
      if (before instanceof HTMLElement) before.focus()
    }
  }, [])
  return (
    <dialog ref={ref} className="modal" aria-labelledby={id} onCancel={() => showDialog(null)}>
      <h2 id={id}>{props.title}</h2>
      <div className="modalBody">{props.children}</div>
      <div className="modalButtons">
        {props.buttons}
        <button type="button" onClick={() => showDialog(null)}>
          {props.wayOut ?? 'Close'}
        </button>
      </div>
    </dialog>
  )
}
