import { documentStore } from '../../store/documentStore.ts'
import { downloadDocument } from '../../store/files.ts'
import { showDialog } from './dialogStore.ts'
import { save } from './documentActions.ts'
import { Modal } from './Modal.tsx'

const when = (at: number) =>
  new Date(at).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'medium' })

/** Tells that nothing was written and why, with the ways that are left. The document stays as it is. */
export function NotSaved(props: { name: string; why: string | { readonly changedAt: number } }) {
  const { name, why } = props
  const go = (action: () => void) => () => {
    showDialog(null)
    action()
  }
  const elsewhere = (
    <button type="button" className="primary" onClick={go(() => save('elsewhere'))}>
      Save to another file…
    </button>
  )
  if (typeof why !== 'string')
    return (
      <Modal
        title={`“${name}” was changed outside this page`}
        buttons={
          <>
            {elsewhere}
            <button type="button" onClick={go(() => save('ownOverChanges'))}>
              Overwrite it
            </button>
          </>
        }
      >
        <p>
          It was changed outside this page on {when(why.changedAt)}. Nothing was written yet. Saving to this
          file overwrites that change; to see it first, save to another file and open this one.
        </p>
      </Modal>
    )
  return (
    <Modal
      title={`“${name}” was not saved`}
      buttons={
        <>
          {elsewhere}
          <button type="button" onClick={go(() => downloadDocument(documentStore.getState().settled))}>
            Download it
          </button>
          <button type="button" onClick={go(() => save())}>
            Try again
          </button>
        </>
      }
    >
      <p>{why}</p>
      <p>Nothing is lost: skid and file are unchanged.</p>
    </Modal>
  )
}
