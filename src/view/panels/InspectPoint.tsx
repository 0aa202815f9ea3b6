import { movePoint } from '../../document/edits.ts'
import { endPoint, fittingOf } from '../../document/lookUp.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { AngleField } from '../fields/AngleField.tsx'
import { applyEdit } from '../fields/applyEdit.ts'
import { LengthField } from '../fields/LengthField.tsx'
import { angleKind, lengthKind } from '../fields/quantityKind.ts'
import { SelectField } from '../fields/SelectField.tsx'
import { VectorField } from '../fields/VectorField.tsx'
import { useSession } from '../useStore.ts'
import { InspectHead } from './InspectHead.tsx'
import { KeepEnd } from './KeepEnd.tsx'
import { attachEnd, deletePoint } from './pointEdits.ts'
import { rowEdit, turnInWords } from './rowEdits.ts'

/** A point of a run: its exact place, and its bend's figures. */
export function InspectPoint({ document, run, point }: { document: SkidDocument; run: Run; point: string }) {
  const end = point === 'A' ? run.endA : point === 'B' ? run.endB : null
  const at = end ? endPoint(document, end) : (run.vertices.find(v => v.id === point)?.at ?? null)
  const fitting = end && fittingOf(document, end)
  const route = solvedRunOf(document, run.id)?.route ?? null
  const k = route ? route.bends.findIndex(b => b.vertexId === point) : -1
  const bend = route?.bends[k]
  const length = lengthKind(useSession(state => state.unit))
  const number = run.vertices.findIndex(v => v.id === point) + 2
  const name = end ? `End ${point}` : bend ? `Bend ${k + 1}` : `Point ${number}`
  return (
    <>
      <InspectHead title={name} kind={`of ${run.tag}`}>
        <button
          type="button"
          className="small"
          onClick={() => sessionStore.getState().select({ kind: 'run', run: run.id })}
        >
          Whole run
        </button>
        {!end && (
          <button
            type="button"
            className="small"
            onClick={() => {
              applyEdit(`Delete point ${number}`, deletePoint(run.id, point))
              sessionStore.getState().select({ kind: 'run', run: run.id })
            }}
          >
            Delete
          </button>
        )}
      </InspectHead>
      <div className="inspect-body">
        {end && (
          <SelectField
            name="Attached to"
            value={end.kind === 'port' ? end.fitting : ''}
            label={`Attach end ${point}`}
            choices={[
              { value: '', text: 'free end' },
              ...document.fittings.map(f => ({ value: f.id, text: f.name })),
            ]}
            edit={to => attachEnd(run.id, point as 'A' | 'B', to)}
          />
        )}
        {at ? (
          <VectorField
            name={end ? 'Place' : `Position of point ${number}`}
            of="length"
            value={at}
            label={end ? `Move end ${point}` : `Move point ${number}`}
            edit={to => settled => movePoint(settled, run.id, point, to)}
            locked={fitting ? `In the port of ${fitting.name}: move the fitting.` : undefined}
          />
        ) : (
          <p className="field-reason">Its fitting is missing from the document: attach it to another.</p>
        )}
        {fitting && (
          <button
            type="button"
            onClick={() => sessionStore.getState().select({ kind: 'fitting', fitting: fitting.id })}
          >
            Go to {fitting.name}
          </button>
        )}
        {bend && (
          <>
            <h3>Bend {k + 1}</h3>
            <AngleField
              name="Angle"
              value={bend.angle}
              label={`Change angle of bend ${k + 1}`}
              edit={rowEdit(run.id, 'angle', k)}
            />
            {bend.rotation !== null && (
              <AngleField
                name="Rotation"
                value={bend.rotation}
                hint={`${turnInWords(bend.rotation, angleKind.show)} from bend ${k}, looking from A to B`}
                label={`Rotation of bend ${k + 1}`}
                edit={rowEdit(run.id, 'rotation', k)}
              />
            )}
            <LengthField
              name="Straight before"
              value={route!.straights[k]!}
              label={`Change straight ${k + 1}`}
              edit={rowEdit(run.id, 'straight', k)}
            />
            <LengthField
              name="Straight after"
              value={route!.straights[k + 1]!}
              label={`Change straight ${k + 2}`}
              edit={rowEdit(run.id, 'straight', k + 1)}
            />
            <KeepEnd />
            <p className="quiet">
              {[
                ['Tangent', bend.tangentLength],
                ['arc', bend.arcLength],
                ['gain', bend.gain],
              ]
                .map(([word, mm]) => `${word} ${length.show(Number(mm))}`)
                .join(', ')}{' '}
              {length.unitWord}.
            </p>
          </>
        )}
        {!end && route && !bend && (
          <p className="quiet">No bend here: the tube goes straight through this point.</p>
        )}
      </div>
    </>
  )
}
