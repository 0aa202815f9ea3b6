import { Modal } from './Modal.tsx'

/** How far a large file is on its way to the screen. */
export function OpeningFile({ name, done, total }: { name: string; done: number; total: number }) {
  return (
    <Modal title={`Opening “${name}”`} wayOut="Cancel">
      <p>
        <progress aria-label="Runs solved and checked" max={total} value={done} />{' '}
        <span className="number" aria-hidden="true">
          {done} of {total} runs
        </span>
      </p>
      <p className="quiet">The open skid stays until all are solved.</p>
    </Modal>
  )
}
