import { SAMPLES } from '../../store/samples.ts'
import { showDialog } from './dialogStore.ts'
import { openSample } from './documentActions.ts'
import { Modal } from './Modal.tsx'

/** The samples, each with what it shows. */
export function SamplePicker() {
  return (
    <Modal title="Samples">
      <p className="quiet">
        An oyster hatchery’s skids. All of it is invented: no figure here comes from a real plant.
      </p>
      <ul className="choices">
        {SAMPLES.map(sample => (
          <li key={sample.key}>
            <button
              type="button"
              onClick={() => {
                showDialog(null)
                void openSample(sample.key)
              }}
            >
              <strong>{sample.title}</strong>
              <span>{sample.tells}</span>
            </button>
          </li>
        ))}
      </ul>
    </Modal>
  )
}
