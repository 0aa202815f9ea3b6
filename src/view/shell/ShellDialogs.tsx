import { lazy, Suspense } from 'react'
import { useStore } from 'zustand'
import { documentStore } from '../../store/documentStore.ts'
import { downloadDocument } from '../../store/files.ts'
import { dialogStore, showDialog } from './dialogStore.ts'
import { Modal } from './Modal.tsx'

/** Loaded when first asked for, as it lists the keys of every view. */
const ShortcutSheet = lazy(async () => ({ default: (await import('./ShortcutSheet.tsx')).ShortcutSheet }))

const KeptCopies = lazy(async () => ({ default: (await import('./KeptCopies.tsx')).KeptCopies }))
const OpeningFile = lazy(async () => ({ default: (await import('./OpeningFile.tsx')).OpeningFile }))
const RefusedFile = lazy(async () => ({ default: (await import('./RefusedFile.tsx')).RefusedFile }))
const SamplePicker = lazy(async () => ({ default: (await import('./SamplePicker.tsx')).SamplePicker }))
const NotSaved = lazy(async () => ({ default: (await import('./NotSaved.tsx')).NotSaved }))

/** Loaded when first asked for, with everything that draws and writes. */
const PaperDialog = lazy(() => import('../paper/PaperDialog.tsx'))

/** Loaded when first asked for, with all that reads and tells about models. */
const ImportModel = lazy(() => import('../models/ImportModel.tsx'))
const OtherModelFile = lazy(() => import('../models/OtherModelFile.tsx'))

/** Loaded when first asked for, with its reader of tables and its drawing. */
const ImportDialog = lazy(() => import('../exchange/ImportDialog.tsx'))

/** Loaded when first asked for, with all that tells what a change of many runs does. */
const ChangeRuns = lazy(() => import('../panels/ChangeRuns.tsx'))

/** Whichever dialog is open. */
export function ShellDialogs() {
  const dialog = useStore(dialogStore, state => state.dialog)
  if (!dialog) return null
  if (dialog.kind === 'shortcuts')
    return (
      <Suspense fallback={null}>
        <ShortcutSheet />
      </Suspense>
    )
  if (dialog.kind === 'paper')
    return (
      <Suspense fallback={null}>
        <PaperDialog />
      </Suspense>
    )
  if (dialog.kind === 'importModel')
    return (
      <Suspense fallback={null}>
        <ImportModel file={dialog.file} replaces={dialog.replaces} />
      </Suspense>
    )
  if (dialog.kind === 'otherModelFile')
    return (
      <Suspense fallback={null}>
        <OtherModelFile model={dialog.model} file={dialog.file} />
      </Suspense>
    )
  if (dialog.kind === 'importTable')
    return (
      <Suspense fallback={null}>
        <ImportDialog source={dialog.source} />
      </Suspense>
    )
  if (dialog.kind === 'changeRuns')
    return (
      <Suspense fallback={null}>
        <ChangeRuns ids={dialog.runs} />
      </Suspense>
    )
  if (dialog.kind === 'copies')
    return (
      <Suspense fallback={null}>
        <KeptCopies />
      </Suspense>
    )
  if (dialog.kind === 'opening')
    return (
      <Suspense fallback={null}>
        <OpeningFile {...dialog} />
      </Suspense>
    )
  if (dialog.kind === 'notSaved')
    return (
      <Suspense fallback={null}>
        <NotSaved name={dialog.name} why={dialog.why} />
      </Suspense>
    )
  if (dialog.kind === 'samples')
    return (
      <Suspense fallback={null}>
        <SamplePicker />
      </Suspense>
    )
  if (dialog.kind === 'refused')
    return (
      <Suspense fallback={null}>
        <RefusedFile name={dialog.name} faults={dialog.faults} text={dialog.text} />
      </Suspense>
    )
  const go = (first?: () => void) => {
    first?.()
    showDialog(null)
    dialog.next()
  }
  return (
    <Modal
      title="Not saved yet"
      buttons={
        <>
          <button
            type="button"
            className="primary"
            onClick={() => go(() => downloadDocument(documentStore.getState().settled))}
          >
            Download it, then continue
          </button>
          <button type="button" onClick={() => go()}>
            Continue without it
          </button>
        </>
      }
    >
      <p>The browser cannot save it, and it is not in a file. If you continue, it is lost.</p>
    </Modal>
  )
}
