import type { FileFault } from '../../store/files.ts'
import { Modal } from './Modal.tsx'

/** At most this many faults of a refused file are listed; the rest is counted. */
const MOST_FAULTS = 12

/** Why a file was not opened, place by place. */
export function RefusedFile({
  name,
  faults,
}: {
  readonly name: string
  readonly faults: readonly FileFault[]
}) {
  return (
    <Modal title={`“${name}” was not opened`}>
      <p>The open skid is untouched. What is wrong with the file:</p>
      <ul className="faults">
        {faults.slice(0, MOST_FAULTS).map(fault => (
          <li key={`${fault.path} ${fault.message}`}>
            <span>{fault.message}</span>
            {fault.path && !fault.message.startsWith(fault.path) && <code>{fault.path}</code>}
          </li>
        ))}
      </ul>
      {faults.length > MOST_FAULTS && <p>… and {faults.length - MOST_FAULTS} more.</p>}
    </Modal>
  )
}
