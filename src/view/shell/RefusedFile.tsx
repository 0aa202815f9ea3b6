import { useMemo } from 'react'
import { type Salvaged, salvageDocument } from '../../document/salvageDocument.ts'
import { visibleText } from '../../document/visibleText.ts'
import type { FileFault } from '../../store/files.ts'
import { showDialog } from './dialogStore.ts'
import { openSoundPart } from './documentActions.ts'
import { Modal } from './Modal.tsx'

/** At most this many faults of a refused file are listed; the rest is counted. */
const MOST_FAULTS = 12

interface Props {
  readonly name: string
  readonly faults: readonly FileFault[]
  readonly text: string | null
}

/** Why a file was not opened, place by place, and what of it could be. */
export function RefusedFile({ name, faults, text }: Props) {
  const salvaged = useMemo(() => (text === null ? null : salvageDocument(text)), [text])
  return (
    <Modal
      title={`“${visibleText(name)}” was not opened`}
      buttons={
        salvaged && (
          <button
            type="button"
            onClick={() => {
              showDialog(null)
              openSoundPart(salvaged.document, name)
            }}
          >
            Open the sound part as a new skid
          </button>
        )
      }
    >
      <p>The open skid is unchanged. Errors in the file:</p>
      <ul className="faults">
        {faults.slice(0, MOST_FAULTS).map(fault => (
          <li key={`${fault.path} ${fault.message}`}>
            <span>{visibleText(fault.message)}</span>
            {fault.path && !fault.message.startsWith(fault.path) && <code>{visibleText(fault.path)}</code>}
          </li>
        ))}
      </ul>
      {faults.length > MOST_FAULTS && <p>… and {faults.length - MOST_FAULTS} more.</p>}
      {salvaged && <SoundPart {...salvaged} />}
    </Modal>
  )
}

function SoundPart({ kept, leftOut }: Salvaged) {
  const counts = kept.map(k => `${k.kept} of ${k.of} ${LIST_WORDS[k.list] ?? k.list}`)
  return (
    <>
      <p>
        Sound: {counts.join(', ')}. If you open that part, the file stays as it is, and this is{' '}
        <strong>left out</strong>:
      </p>
      <ul className="faults">
        {leftOut.slice(0, MOST_FAULTS).map(message => (
          <li key={message}>{message}</li>
        ))}
      </ul>
      {leftOut.length > MOST_FAULTS && <p>… and {leftOut.length - MOST_FAULTS} more.</p>}
    </>
  )
}

const LIST_WORDS: Readonly<Record<string, string>> = {
  fittings: 'ports',
  viewpoints: 'saved views',
  acceptances: 'decisions',
}
