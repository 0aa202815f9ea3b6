import type { ReactNode } from 'react'
import { useStore } from 'zustand'
import { Boundary } from '../FailedView.tsx'
import { dialogStore } from './dialogStore.ts'
import { Modal } from './Modal.tsx'

/** An error in a dialog takes nothing away but that dialog; the next one opens as ever. */
export function DialogBoundary({ children }: { readonly children: ReactNode }) {
  const kind = useStore(dialogStore, state => state.dialog?.kind)
  return (
    <Boundary
      key={kind ?? 'none'}
      what="The dialog"
      instead={error => (
        <Modal title="The dialog stopped">
          <p>
            An error in the program: <q>{error.message || error.name}</q>. The skid is unchanged.
          </p>
        </Modal>
      )}
    >
      {children}
    </Boundary>
  )
}
