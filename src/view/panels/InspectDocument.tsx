import { useState } from 'react'
import { addFitting, addSolid, freshId } from '../../document/edits.ts'
import type { Clearances, SkidDocument } from '../../document/types.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit, type Edit } from '../fields/applyEdit.ts'
import { LengthField } from '../fields/LengthField.tsx'
import { TextField } from '../fields/TextField.tsx'
import { showDialog } from '../shell/dialogStore.ts'
import { useOneStop } from '../useOneStop.ts'
import { InspectHead } from './InspectHead.tsx'
import { NewRun } from './NewRun.tsx'
import { newFitting, newSolid, SHAPES } from './newParts.ts'
import { PartList } from './PartList.tsx'
import { SupportList } from './SupportList.tsx'
import { skidKind } from './skidKind.ts'
import { KIND_NAMES } from './solidKinds.ts'

const GAPS: readonly { kind: keyof Clearances; name: string }[] = [
  { kind: 'tube', name: 'Other tubes' },
  { kind: 'equipment', name: 'Equipment' },
  { kind: 'structure', name: 'Structure' },
  { kind: 'fitting', name: 'Fittings' },
  { kind: 'floor', name: 'Floor' },
  { kind: 'keepOut', name: 'Keep-out zones' },
]

/** Name, note, gaps asked for, and what can be added. */
export function InspectDocument({ document }: { document: SkidDocument }) {
  const [addingRun, setAddingRun] = useState(false)
  const add = useOneStop<HTMLDivElement>()
  const put =
    (patch: Partial<SkidDocument>): Edit =>
    settled => ({ ...settled, ...patch })
  return (
    <>
      <InspectHead title={document.name} kind={skidKind(document)} />
      <div className="inspect-body">
        <TextField
          name="Name"
          value={document.name}
          label="Rename the skid"
          edit={name =>
            name.trim() === '' ? () => ({ refused: 'A skid needs a name.' }) : put({ name: name.trim() })
          }
        />
        <TextField
          name="Note"
          lines={2}
          value={document.note}
          label="Change the note"
          edit={note => put({ note })}
        />
        <h3>Add</h3>
        <div className="add-buttons" role="toolbar" aria-label="Add" {...add}>
          <button type="button" aria-expanded={addingRun} onClick={() => setAddingRun(!addingRun)}>
            Run
          </button>
          <button
            type="button"
            onClick={() => {
              let id = ''
              applyEdit('Add a fitting', settled => {
                const fitting = newFitting(
                  settled,
                  freshId(
                    'f',
                    settled.fittings.map(f => f.id),
                  ),
                )
                id = fitting.id
                return addFitting(settled, fitting)
              })
              sessionStore.getState().select({ kind: 'fitting', fitting: id })
            }}
          >
            Fitting
          </button>
          {SHAPES.map(({ shape, name }) => (
            <button
              key={shape}
              type="button"
              onClick={() => {
                let id = ''
                applyEdit(`Add a ${name.toLowerCase()}`, settled => {
                  const solid = newSolid(
                    shape,
                    settled,
                    freshId(
                      's',
                      settled.solids.map(s => s.id),
                    ),
                  )
                  id = solid.id
                  return addSolid(settled, solid)
                })
                sessionStore.getState().select({ kind: 'solid', solid: id })
              }}
            >
              {name}
            </button>
          ))}
          <button
            type="button"
            title="Equipment or structure from a STEP, glTF, STL or OBJ file"
            onClick={() => showDialog({ kind: 'importModel', file: null, replaces: null })}
          >
            Model from a file…
          </button>
        </div>
        {addingRun && <NewRun document={document} onDone={() => setAddingRun(false)} />}
        <h3>Minimum clearance to</h3>
        {GAPS.map(({ kind, name }) => (
          <LengthField
            key={kind}
            name={name}
            value={document.clearances[kind]}
            label={`Change the minimum clearance to ${name.toLowerCase()}`}
            edit={to => settled =>
              to < 0
                ? { refused: 'A clearance is 0 or more.' }
                : { ...settled, clearances: { ...settled.clearances, [kind]: to } }
            }
          />
        ))}
        {document.runs.length > 0 && <SupportList document={document} />}
        {document.fittings.length + document.solids.length + document.models.length > 0 && (
          <Parts document={document} />
        )}
      </div>
    </>
  )
}

/** Fittings, solids and models by name: the way to them without the 3D view. */
function Parts({ document }: { document: SkidDocument }) {
  const { select, setHover } = sessionStore.getState()
  return (
    <>
      <h3>Fittings, solids and models</h3>
      <PartList name="Fittings, solids and models">
        {document.fittings.map(f => (
          <li key={f.id}>
            <button
              type="button"
              onClick={() => select({ kind: 'fitting', fitting: f.id })}
              onPointerEnter={() => setHover({ kind: 'fitting', fitting: f.id })}
              onPointerLeave={() => setHover(null)}
            >
              {f.name} <span className="quiet">port</span>
            </button>
          </li>
        ))}
        {document.models.map(m => (
          <li key={`model ${m.id}`}>
            <button
              type="button"
              onClick={() => select({ kind: 'model', model: m.id, key: null })}
              onPointerEnter={() => setHover({ kind: 'model', model: m.id, key: null })}
              onPointerLeave={() => setHover(null)}
            >
              {m.name} <span className="quiet">model</span>
            </button>
          </li>
        ))}
        {document.solids.map(s => (
          <li key={s.id}>
            <button
              type="button"
              onClick={() => select({ kind: 'solid', solid: s.id })}
              onPointerEnter={() => setHover({ kind: 'solid', solid: s.id })}
              onPointerLeave={() => setHover(null)}
            >
              {s.name} <span className="quiet">{KIND_NAMES[s.kind].toLowerCase()}</span>
            </button>
          </li>
        ))}
      </PartList>
    </>
  )
}
