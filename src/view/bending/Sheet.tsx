import { type ReactNode, useEffect, useId, useRef } from 'react'

interface Props {
  readonly title: string
  readonly children: ReactNode
  close(): void
}

/** A question over the page: the browser's own dialog, so that Escape and the keyboard's way round are its own. */
export function Sheet({ title, children, close }: Props) {
  const id = useId()
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => {
    if (dialog.current?.open === false) dialog.current.showModal()
  }, [])
  return (
    <dialog ref={dialog} className="bending-sheet" aria-labelledby={id} onClose={close}>
      <h2 id={id}>{title}</h2>
      {children}
    </dialog>
  )
}
