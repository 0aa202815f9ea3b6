import { useStore } from 'zustand'
import { editModel, removeModel } from '../../document/modelEdits.ts'
import type { Model, ModelKind, SkidDocument } from '../../document/types.ts'
import { visibleText } from '../../document/visibleText.ts'
import { download } from '../../store/files.ts'
import { modelFileOf } from '../../store/modelFiles.ts'
import { modelStore, stateOfModel } from '../../store/modelStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit, type Edit } from '../fields/applyEdit.ts'
import { SelectField } from '../fields/SelectField.tsx'
import { TextField } from '../fields/TextField.tsx'
import { VectorField } from '../fields/VectorField.tsx'
import { ModelParts } from '../models/ModelParts.tsx'
import { giveFile } from '../models/modelActions.ts'
import {
  bytesInWords,
  counted,
  FILE_UNITS,
  FORMAT_NAMES,
  MODEL_KIND_NAMES,
  sizeInWords,
  unitName,
} from '../models/modelWords.ts'
import { ReadProgress } from '../models/ReadProgress.tsx'
import { showDialog } from '../shell/dialogStore.ts'
import { useSession } from '../useStore.ts'
import { InspectHead } from './InspectHead.tsx'
import '../models/models.css'

interface Props {
  readonly document: SkidDocument
  readonly model: Model
  readonly partKey: string | null
}

/** A model's state, name, kind, place and turn, its parts, and its file. */
export default function InspectModel({ document, model, partKey }: Props) {
  const state = useStore(modelStore, s => stateOfModel(s, model))
  const unkept = useStore(modelStore, s => s.unkept.get(model.hash) ?? null)
  const unit = useSession(s => s.unit)
  const change =
    (edit: (m: Model) => Model): Edit =>
    settled =>
      editModel(settled, model.id, edit)
  const loaded = state.kind === 'ready' ? state.loaded : null
  const replace = () => showDialog({ kind: 'importModel', file: null, replaces: model.id })
  return (
    <>
      <InspectHead title={model.name} kind="model">
        <button
          type="button"
          className="small"
          onClick={() => {
            applyEdit(`Delete ${model.name}`, settled => removeModel(settled, model.id))
            sessionStore.getState().select(null)
          }}
        >
          Delete
        </button>
      </InspectHead>
      <div className="inspect-body">
        {state.kind === 'loading' && <ReadProgress progress={state.progress} />}
        {state.kind === 'missing' && (
          <div className="model-trouble" role="status">
            <p>
              Its file “{visibleText(model.fileName)}”, {bytesInWords(model.bytes)}, is not in this browser.
              The model is not drawn, and clearance to it is not checked.
            </p>
            <button type="button" className="primary" onClick={() => void giveFile(model)}>
              Locate file…
            </button>
          </div>
        )}
        {state.kind === 'refused' && (
          <div className="model-trouble" role="status">
            <p>
              Its file “{visibleText(model.fileName)}” cannot be used: {state.reason}. The model is not drawn,
              and clearance to it is not checked.
            </p>
            <button type="button" onClick={() => void giveFile(model)}>
              Locate file again…
            </button>
          </div>
        )}
        {unkept && (
          <div className="model-trouble" role="status">
            <p>
              Its file lasts until this page is closed: {unkept}. Keep “{visibleText(model.fileName)}”: you
              will need it again.
            </p>
            <button type="button" onClick={() => void saveFile(model)}>
              Download the file
            </button>
          </div>
        )}
        <TextField
          name="Name"
          value={model.name}
          label="Rename the model"
          edit={name =>
            name.trim() === ''
              ? () => ({ refused: 'A model needs a name.' })
              : change(m => ({ ...m, name: name.trim() }))
          }
        />
        <SelectField
          name="All parts are"
          value={model.kind}
          label={`Change the kind of ${model.name}`}
          choices={Object.entries(MODEL_KIND_NAMES).map(([value, text]) => ({ value, text }))}
          edit={kind => change(m => ({ ...m, kind: kind as ModelKind }))}
        />
        {loaded && <ModelParts document={document} model={model} loaded={loaded} partKey={partKey} />}
        {state.kind !== 'ready' && model.parts.length > 0 && (
          <p className="quiet">
            {counted(model.parts.length, 'part is', 'parts are')} with its own settings; shown again when the
            file is loaded.
          </p>
        )}
        <h3>Whole model</h3>
        <SelectField
          name="Belongs to"
          value={model.fitting ?? ''}
          label={`Change what ${model.name} belongs to`}
          choices={[
            { value: '', text: 'no fitting' },
            ...document.fittings.map(f => ({ value: f.id, text: f.name })),
          ]}
          edit={id => change(m => ({ ...m, fitting: id === '' ? null : id }))}
        />
        <VectorField
          name="Position of its origin"
          of="length"
          value={model.at}
          label={`Move ${model.name}`}
          edit={at => change(m => ({ ...m, at }))}
        />
        <VectorField
          name="Rotated about x, then y, then z"
          of="angle"
          value={model.turn}
          label={`Turn ${model.name}`}
          edit={turn => change(m => ({ ...m, turn }))}
        />
        <h3>File</h3>
        <p>
          {visibleText(model.fileName)}{' '}
          <span className="quiet">
            {FORMAT_NAMES[model.format]}, {bytesInWords(model.bytes)}
          </span>
          {loaded && (
            <>
              <br />
              {sizeInWords(loaded.drawing, unit)}, {counted(loaded.drawing.parts.length, 'part', 'parts')},{' '}
              {counted(loaded.triangles, 'triangle', 'triangles')}
            </>
          )}
        </p>
        {loaded?.notes.map(note => (
          <p key={note} className="quiet">
            {note}
          </p>
        ))}
        <SelectField
          name="Its unit"
          value={String(model.unitMm)}
          label={`Change the unit of ${model.name}`}
          choices={[
            ...FILE_UNITS.map(u => ({ value: String(u.mm), text: u.name })),
            ...(FILE_UNITS.some(u => u.mm === model.unitMm)
              ? []
              : [{ value: String(model.unitMm), text: unitName(model.unitMm) }]),
          ]}
          edit={to => change(m => ({ ...m, unitMm: Number(to) }))}
        />
        <SelectField
          name="Its axis up"
          value={model.up}
          label={`Change the axis up of ${model.name}`}
          choices={[
            { value: 'z', text: 'z' },
            { value: 'y', text: 'y' },
          ]}
          edit={to => change(m => ({ ...m, up: to as Model['up'] }))}
        />
        <button type="button" onClick={replace}>
          Replace the file…
        </button>
      </div>
    </>
  )
}

async function saveFile(model: Model): Promise<void> {
  const file = await modelFileOf(model.hash)
  if (file) download(model.fileName, new Uint8Array(await file.arrayBuffer()), 'application/octet-stream')
  else sessionStore.getState().say(`“${visibleText(model.fileName)}” is not in this browser.`)
}
