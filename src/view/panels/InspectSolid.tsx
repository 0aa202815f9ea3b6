import { editSolid, removeSolid } from '../../document/edits.ts'
import type { SkidDocument, Solid, SolidKind } from '../../document/types.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit, type Edit } from '../fields/applyEdit.ts'
import { DirectionField } from '../fields/DirectionField.tsx'
import { LengthField } from '../fields/LengthField.tsx'
import { SelectField } from '../fields/SelectField.tsx'
import { TextField } from '../fields/TextField.tsx'
import { VectorField } from '../fields/VectorField.tsx'
import { InspectHead } from './InspectHead.tsx'
import { SHAPES } from './newParts.ts'
import { KIND_NAMES } from './solidKinds.ts'

const refuse =
  (refused: string): Edit =>
  () => ({ refused })

/** A solid's name, kind, place, size and turn. */
export function InspectSolid({ document, solid }: { document: SkidDocument; solid: Solid }) {
  const change =
    (edit: (s: Solid) => Solid): Edit =>
    settled =>
      editSolid(settled, solid.id, edit)
  const shape = SHAPES.find(s => s.shape === solid.shape)?.name.toLowerCase() ?? solid.shape
  const positive = (name: string, to: number, edit: (s: Solid) => Solid): Edit =>
    to > 0 ? change(edit) : refuse(`${name} is above 0.`)
  return (
    <>
      <InspectHead title={solid.name} kind={shape}>
        <button
          type="button"
          className="small"
          onClick={() => {
            applyEdit(`Delete ${solid.name}`, settled => removeSolid(settled, solid.id))
            sessionStore.getState().select(null)
          }}
        >
          Delete
        </button>
      </InspectHead>
      <div className="inspect-body">
        <TextField
          name="Name"
          value={solid.name}
          label={`Rename the ${shape}`}
          edit={name =>
            name.trim() === '' ? refuse('A solid needs a name.') : change(s => ({ ...s, name: name.trim() }))
          }
        />
        <SelectField
          name="Kind"
          value={solid.kind}
          label="Change the kind"
          choices={Object.entries(KIND_NAMES).map(([value, text]) => ({ value, text }))}
          edit={kind => change(s => ({ ...s, kind: kind as SolidKind }))}
        />
        <SelectField
          name="Belongs to"
          value={solid.fitting ?? ''}
          label="Change what it belongs to"
          choices={[
            { value: '', text: 'no fitting' },
            ...document.fittings.map(f => ({ value: f.id, text: f.name })),
          ]}
          edit={id => change(s => ({ ...s, fitting: id === '' ? null : id }))}
        />
        <VectorField
          name={solid.shape === 'plane' ? 'A point on it' : 'Centre'}
          of="length"
          value={solid.at}
          label={`Move ${solid.name}`}
          edit={at => change(s => ({ ...s, at }))}
        />
        {solid.shape === 'box' && (
          <>
            <VectorField
              name="Edge lengths"
              of="length"
              value={solid.size}
              label={`Resize ${solid.name}`}
              edit={size =>
                size.every(e => e > 0)
                  ? change(s => (s.shape === 'box' ? { ...s, size } : s))
                  : refuse('An edge is longer than 0.')
              }
            />
            <VectorField
              name="Rotated about x, then y, then z"
              of="angle"
              value={solid.turn}
              label={`Turn ${solid.name}`}
              edit={turn => change(s => (s.shape === 'box' ? { ...s, turn } : s))}
            />
          </>
        )}
        {solid.shape === 'cylinder' && (
          <>
            <DirectionField
              name="Axis"
              value={solid.axis}
              label={`Turn ${solid.name}`}
              edit={axis => change(s => (s.shape === 'cylinder' ? { ...s, axis } : s))}
            />
            <LengthField
              name="Length"
              value={solid.length}
              label={`Resize ${solid.name}`}
              edit={to => positive('A length', to, s => (s.shape === 'cylinder' ? { ...s, length: to } : s))}
            />
          </>
        )}
        {(solid.shape === 'cylinder' || solid.shape === 'sphere') && (
          <LengthField
            name="Diameter"
            value={2 * solid.radius}
            label={`Resize ${solid.name}`}
            edit={to =>
              positive('A diameter', to, s =>
                s.shape === 'cylinder' || s.shape === 'sphere' ? { ...s, radius: to / 2 } : s,
              )
            }
          />
        )}
        {solid.shape === 'plane' && (
          <DirectionField
            name="Normal, towards the free side"
            value={solid.normal}
            label={`Turn ${solid.name}`}
            edit={normal => change(s => (s.shape === 'plane' ? { ...s, normal } : s))}
          />
        )}
      </div>
    </>
  )
}
