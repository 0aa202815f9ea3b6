import { lazy, Suspense, useCallback, useEffect, useState } from 'react'
import { visibleText } from '../../document/visibleText.ts'
import { openCopyId } from '../../store/autosave.ts'
import { type Copy, listCopies, removeCopy } from '../../store/copies.ts'
import { download, fileNameFor } from '../../store/files.ts'
import { showDialog } from './dialogStore.ts'
import { openKept } from './documentActions.ts'
import { Modal } from './Modal.tsx'

/** Loaded with this list: most browsers keep no model. */
const KeptModels = lazy(() => import('../models/KeptModels.tsx'))

/** Day and time as the reader's system writes them. */
const when = (at: number) =>
  new Date(at).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' })

/** The documents that this browser keeps: open, download or remove them. */
export function KeptCopies() {
  const [copies, setCopies] = useState<readonly Copy[] | null>(null)
  const [problem, setProblem] = useState('')
  const load = useCallback(() => {
    listCopies().then(setCopies, (error: unknown) => setProblem((error as Error).message || String(error)))
  }, [])
  useEffect(load, [load])

  return (
    <Modal title="Saved in this browser">
      {problem && <p role="alert">The browser refuses storage: {problem}</p>}
      {copies?.length === 0 && <p>Nothing yet. Every change is saved here at once.</p>}
      {copies && copies.length > 0 && (
        <table className="copies">
          <thead>
            <tr>
              <th scope="col">Skid</th>
              <th scope="col">Saved</th>
              <th scope="col">In a file</th>
              <th scope="col">
                <span className="hidden-label">Actions</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {copies.map(copy => (
              <tr key={copy.id}>
                <th scope="row">
                  {visibleText(copy.name)}
                  {copy.id === openCopyId() && <span className="quiet"> (open here)</span>}
                </th>
                <td>{when(copy.keptAt)}</td>
                <td>{copy.inFile ?? (copy.changed ? 'no' : 'unchanged')}</td>
                <td>
                  <button
                    type="button"
                    aria-label={`Open ${copy.name}`}
                    disabled={copy.id === openCopyId()}
                    onClick={() => {
                      showDialog(null)
                      openKept(copy)
                    }}
                  >
                    Open
                  </button>
                  <button
                    type="button"
                    aria-label={`Download ${copy.name}`}
                    onClick={() => download(fileNameFor(copy.name), copy.text, 'application/json')}
                  >
                    Download
                  </button>
                  <button
                    type="button"
                    aria-label={`Remove ${copy.name}`}
                    disabled={copy.id === openCopyId()}
                    onClick={() => void removeCopy(copy.id).then(load)}
                  >
                    Remove
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <Suspense fallback={null}>
        <KeptModels copies={copies} />
      </Suspense>
    </Modal>
  )
}
