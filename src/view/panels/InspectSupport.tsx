import { SUPPORT_OFF_MM } from '../../checks/supportsOnTube.ts'
import { runOf } from '../../document/lookUp.ts'
import { editSupport, removeSupport } from '../../document/supportEdits.ts'
import type { SkidDocument, Support } from '../../document/types.ts'
import { pointAt } from '../../solve/centreLine.ts'
import { nearestAlong } from '../../solve/nearestAlong.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit, type Edit } from '../fields/applyEdit.ts'
import { LengthField } from '../fields/LengthField.tsx'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { SelectField } from '../fields/SelectField.tsx'
import { TextField } from '../fields/TextField.tsx'
import { VectorField } from '../fields/VectorField.tsx'
import { useSession } from '../useStore.ts'
import { InspectHead } from './InspectHead.tsx'

const refuse =
  (refused: string): Edit =>
  () => ({ refused })

/** Nearer than this a support is on the line as written: nothing to put back. mm. */
const ON_LINE_MM = 1e-6

/** A support's name, what is ordered, the run it holds and where it stands. */
export function InspectSupport({ document, support }: { document: SkidDocument; support: Support }) {
  const unit = useSession(state => state.unit)
  const show = (mm: number) => `${lengthKind(unit).show(mm)} ${lengthUnitWord(unit)}`
  const change =
    (patch: Partial<Omit<Support, 'id'>>): Edit =>
    settled =>
      editSupport(settled, support.id, patch)
  const route = solvedRunOf(document, support.run)?.route
  const near = route && nearestAlong(route, support.at)
  const tag = runOf(document, support.run)?.tag ?? ''
  const types = [...new Set(document.supports.map(s => s.type))]
  return (
    <>
      <InspectHead title={support.name} kind={`support of ${tag}`}>
        <button
          type="button"
          className="small"
          onClick={() => {
            applyEdit(`Delete ${support.name}`, settled => removeSupport(settled, support.id))
            sessionStore.getState().select({ kind: 'run', run: support.run })
          }}
        >
          Delete
        </button>
      </InspectHead>
      <div className="inspect-body">
        <TextField
          name="Name"
          value={support.name}
          label="Rename the support"
          edit={name =>
            name.trim() === '' ? refuse('A support needs a name.') : change({ name: name.trim() })
          }
        />
        <TextField
          name="Type ordered"
          value={support.type}
          label={`Change what ${support.name} is`}
          suggestions={types}
          edit={type => (type.trim() === '' ? refuse('Say what is ordered.') : change({ type: type.trim() }))}
        />
        <SelectField
          name="Holds run"
          value={support.run}
          label={`Change the run that ${support.name} holds`}
          choices={document.runs.map(r => ({ value: r.id, text: r.tag }))}
          edit={run => change({ run })}
        />
        {route && near && (
          <LengthField
            name="Along from end A"
            value={near.along}
            label={`Move ${support.name} along the tube`}
            edit={to =>
              to >= 0 && to <= route.developedLength
                ? change({ at: pointAt(route, to).point })
                : refuse(`The tube is ${show(route.developedLength)} long: 0 to that.`)
            }
          />
        )}
        <VectorField
          name="Place"
          of="length"
          value={support.at}
          label={`Move ${support.name}`}
          edit={at => change({ at })}
        />
        {!near ? (
          <p className="quiet">The run cannot be solved, so there is no tube to support.</p>
        ) : (
          <>
            <p>
              {near.distance <= ON_LINE_MM
                ? 'On the tube’s centre line'
                : `${show(near.distance)} off the tube’s centre line`}
              {near.piece.kind === 'arc'
                ? `, in bend ${near.piece.bend + 1}.`
                : `, on straight ${near.piece.straight + 1}.`}
            </p>
            {near.distance > SUPPORT_OFF_MM && (
              <p className="field-reason">More than {show(SUPPORT_OFF_MM)}: it does not hold the tube.</p>
            )}
            <button
              type="button"
              disabled={near.distance <= ON_LINE_MM}
              onClick={() => applyEdit(`Put ${support.name} back onto the tube`, change({ at: near.point }))}
            >
              Back onto the tube
            </button>
          </>
        )}
      </div>
    </>
  )
}
