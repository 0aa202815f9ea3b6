import { showDialog } from '../shell/dialogStore.ts'
import { Modal } from '../shell/Modal.tsx'
import { useDocument } from '../useStore.ts'
import { bytesInWords } from './modelWords.ts'

/** A file was given for a model that was made with another one: refused, and offered as a change of the skid. */
export default function OtherModelFile({ model: id, file }: { model: string; file: File }) {
  const model = useDocument(state => state.settled.models.find(m => m.id === id))
  if (!model) return null
  return (
    <Modal
      title={`“${file.name}” is another file`}
      buttons={
        <button type="button" onClick={() => showDialog({ kind: 'importModel', file, replaces: id })}>
          Use this other version instead…
        </button>
      }
    >
      <p>
        {model.name} was made with “{model.fileName}”, {bytesInWords(model.bytes)}. “{file.name}”,{' '}
        {bytesInWords(file.size)}, has different contents, so nothing was changed.
      </p>
      <p>
        To continue with this version, use it: position, rotation and the kinds of parts stay; one undo
        reverses it.
      </p>
    </Modal>
  )
}
