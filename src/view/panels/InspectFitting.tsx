import { FITTING_KINDS } from '../../catalogue/fittingKinds.ts'
import { editFitting, removeFitting } from '../../document/edits.ts'
import type { Fitting, SkidDocument } from '../../document/types.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit, type Edit } from '../fields/applyEdit.ts'
import { DirectionField } from '../fields/DirectionField.tsx'
import { LengthField } from '../fields/LengthField.tsx'
import { SelectField } from '../fields/SelectField.tsx'
import { TextField } from '../fields/TextField.tsx'
import { VectorField } from '../fields/VectorField.tsx'
import { ExemptList } from './ExemptList.tsx'
import { InspectHead } from './InspectHead.tsx'
import { PartList } from './PartList.tsx'

/** A fitting's port: place, axis, insertion depth and the straight it needs. */
export function InspectFitting({ document, fitting }: { document: SkidDocument; fitting: Fitting }) {
  const put =
    (patch: Partial<Fitting>): Edit =>
    settled =>
      editFitting(settled, fitting.id, patch)
  const atLeastZero = (name: string, to: number, patch: Partial<Fitting>): Edit =>
    to < 0 ? () => ({ refused: `${name} is 0 or more.` }) : put(patch)
  const runs = document.runs.filter(r =>
    [r.endA, r.endB].some(e => e.kind === 'port' && e.fitting === fitting.id),
  )
  return (
    <>
      <InspectHead title={fitting.name} kind="fitting">
        <button
          type="button"
          className="small"
          title={runs.length > 0 ? 'Runs that end here keep their end where it is, as a free end' : undefined}
          onClick={() => {
            applyEdit(`Delete ${fitting.name}`, settled => removeFitting(settled, fitting.id))
            sessionStore.getState().select(null)
          }}
        >
          Delete
        </button>
      </InspectHead>
      <div className="inspect-body">
        <TextField
          name="Name"
          value={fitting.name}
          label="Rename the fitting"
          edit={name =>
            name.trim() === '' ? () => ({ refused: 'A fitting needs a name.' }) : put({ name: name.trim() })
          }
        />
        <SelectField
          name="Kind"
          value={fitting.catalogueId ?? ''}
          label={`Change the kind of ${fitting.name}`}
          choices={[
            { value: '', text: 'Custom' },
            ...FITTING_KINDS.map(k => ({ value: k.id, text: k.name })),
            ...(fitting.catalogueId !== null && !FITTING_KINDS.some(k => k.id === fitting.catalogueId)
              ? [{ value: fitting.catalogueId, text: `${fitting.catalogueId} (not in the table)` }]
              : []),
          ]}
          edit={id => {
            const kind = FITTING_KINDS.find(k => k.id === id)
            return put(
              kind
                ? {
                    catalogueId: kind.id,
                    insertionDepth: kind.insertionDepth,
                    straightNeeded: kind.straightNeeded,
                    tubeOd: kind.tubeOd,
                  }
                : { catalogueId: null },
            )
          }}
        />
        <VectorField
          name="Centre of the port’s face"
          of="length"
          value={fitting.position}
          label={`Move ${fitting.name}`}
          edit={position => put({ position })}
        />
        <DirectionField
          name="Axis, out towards the tube"
          value={fitting.axis}
          label={`Turn ${fitting.name}`}
          edit={axis => put({ axis })}
        />
        <LengthField
          name="Insertion"
          value={fitting.insertionDepth}
          hint="How far the tube goes in past the face"
          label="Change the insertion depth"
          edit={to => atLeastZero('An insertion depth', to, { insertionDepth: to, catalogueId: null })}
        />
        <LengthField
          name="Minimum straight"
          value={fitting.straightNeeded}
          hint="Outside the face, for nut and ferrules"
          label="Change the minimum straight"
          edit={to => atLeastZero('A straight', to, { straightNeeded: to, catalogueId: null })}
        />
        <SelectField
          name="Takes tube"
          value={fitting.tubeOd === null ? 'any' : 'one'}
          label="Change which tube fits"
          choices={[
            { value: 'any', text: 'of any size' },
            { value: 'one', text: 'of one OD' },
          ]}
          edit={to => put({ tubeOd: to === 'any' ? null : (runs[0]?.tube.od ?? 12) })}
        />
        {fitting.tubeOd !== null && (
          <LengthField
            name="Its OD"
            value={fitting.tubeOd}
            label="Change the OD that fits"
            edit={to => (to > 0 ? put({ tubeOd: to }) : () => ({ refused: 'An OD is above 0.' }))}
          />
        )}
        <h3>Runs here</h3>
        {runs.length === 0 ? (
          <p className="quiet">None yet.</p>
        ) : (
          <PartList name="Runs here">
            {runs.map(r => (
              <li key={r.id}>
                <button
                  type="button"
                  onClick={() => sessionStore.getState().select({ kind: 'run', run: r.id })}
                >
                  {r.tag}
                </button>
              </li>
            ))}
          </PartList>
        )}
        <ExemptList of={e => e.fitting === fitting.id} />
      </div>
    </>
  )
}
