import { useId, useMemo, useState } from 'react'
import { parseLength } from '../../document/quantity.ts'
import type { Model, ModelKind } from '../../document/types.ts'
import { visibleText } from '../../document/visibleText.ts'
import { sizeOf } from '../../skid/models/modelDrawing.ts'
import type { ReadModel } from '../../skid/models/modelTypes.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sceneBounds } from '../scene/sceneBounds.ts'
import { useSession } from '../useStore.ts'
import { ModelPreview } from './ModelPreview.tsx'
import {
  bytesInWords,
  counted,
  FILE_UNITS,
  FORMAT_NAMES,
  likelyUnit,
  likelyUp,
  MODEL_KIND_NAMES,
  sizeInWords,
} from './modelWords.ts'

/** What a person says about a file, besides what it says itself. */
export interface Answers {
  readonly name: string
  readonly unitMm: number
  readonly up: Model['up']
  readonly kind: ModelKind
}

/** What is proposed: what the file says, what the model was before, what is likely. */
export function answersFor(read: ReadModel, fileName: string, before: Model | null): Answers {
  const up = read.up ?? before?.up ?? likelyUp(read.format)
  const { low, high } = sizeOf(read, 1, up)
  const longest = Math.max(...high.map((h, k) => h - low[k]!))
  return {
    name: before?.name ?? (fileName.replace(/\.[^.]+$/, '').trim() || 'Model'),
    unitMm: read.unitMm ?? before?.unitMm ?? likelyUnit(longest),
    up,
    kind: before?.kind ?? 'equipment',
  }
}

/** Something this many times larger or smaller than the skid is worth a question. */
const ODD_TIMES = 25

interface Props {
  readonly read: ReadModel
  readonly fileName: string
  readonly bytes: number
  readonly answers: Answers
  readonly onChange: (answers: Answers) => void
  readonly onDone: (answers: Answers) => void
  readonly replaces: boolean
}

/** What was read, and the questions that the file leaves open. */
export function AskAboutModel({ read, fileName, bytes, answers, onChange, onDone, replaces }: Props) {
  const id = useId()
  const unit = useSession(s => s.unit)
  const [own, setOwn] = useState<string | null>(
    FILE_UNITS.some(u => u.mm === answers.unitMm) ? null : String(answers.unitMm),
  )
  const [reason, setReason] = useState<string | null>(null)
  const box = useMemo(() => sizeOf(read, answers.unitMm, answers.up), [read, answers.unitMm, answers.up])
  const skid = useMemo(() => {
    const { settled } = documentStore.getState()
    const isEmpty = settled.runs.length + settled.fittings.length + settled.solids.length === 0
    return isEmpty ? null : sceneBounds({ ...settled, models: [] }, new Set())
  }, [])
  const triangles = useMemo(() => read.parts.reduce((n, p) => n + p.indices.length / 3, 0), [read])
  const size = sizeInWords(box, unit)
  const longest = (b: typeof box) => Math.max(...b.high.map((h, k) => h - b.low[k]!))
  const times = skid ? longest(box) / Math.max(1, longest(skid as typeof box)) : 1
  const name = answers.name.trim()

  const typeOwn = (text: string) => {
    setOwn(text)
    const parsed = parseLength(text, 'mm')
    if (parsed.ok && parsed.mm > 0) {
      setReason(null)
      onChange({ ...answers, unitMm: parsed.mm })
    } else setReason(parsed.ok ? 'A unit is above 0.' : parsed.reason)
  }
  return (
    <form
      id="ask-about-model"
      className="ask-model"
      onSubmit={event => {
        event.preventDefault()
        if (reason === null && name !== '') onDone({ ...answers, name })
      }}
    >
      <div className="ask-questions">
        <p className="ask-found">
          <strong>{visibleText(fileName)}</strong>
          <br />
          {FORMAT_NAMES[read.format]}, {bytesInWords(bytes)}, {counted(read.parts.length, 'part', 'parts')},{' '}
          {counted(triangles, 'triangle', 'triangles')}
        </p>
        {read.notes.length > 0 && (
          <ul className="ask-notes">
            {read.notes.map(note => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        )}
        {!replaces && (
          <div className="field">
            <label className="field-name" htmlFor={`${id}-name`}>
              Name
            </label>
            <span className="field-box">
              <input
                id={`${id}-name`}
                value={answers.name}
                maxLength={200}
                autoComplete="off"
                aria-invalid={name === ''}
                onChange={event => onChange({ ...answers, name: event.currentTarget.value })}
              />
            </span>
            {name === '' && <span className="field-reason">A model needs a name.</span>}
          </div>
        )}
        <div className="field">
          <label className="field-name" htmlFor={`${id}-unit`}>
            Its unit
          </label>
          <span className="field-box">
            <select
              id={`${id}-unit`}
              value={own === null ? String(answers.unitMm) : 'own'}
              onChange={event => {
                const to = event.currentTarget.value
                if (to === 'own') return typeOwn(String(answers.unitMm))
                setOwn(null)
                setReason(null)
                onChange({ ...answers, unitMm: Number(to) })
              }}
            >
              {FILE_UNITS.map(u => (
                <option key={u.mm} value={u.mm}>
                  {u.name}
                </option>
              ))}
              <option value="own">another length</option>
            </select>
            {own !== null && (
              <input
                aria-label="Length of one unit, mm"
                aria-invalid={reason !== null}
                value={own}
                onChange={event => typeOwn(event.currentTarget.value)}
              />
            )}
          </span>
          {reason && (
            <span role="alert" className="field-reason">
              {reason}
            </span>
          )}
          <span className="field-hint">
            {read.unitMm === null ? 'Not stated in the file: this is a guess.' : 'As the file says.'}
          </span>
        </div>
        <div className="field">
          <label className="field-name" htmlFor={`${id}-up`}>
            Its axis up
          </label>
          <span className="field-box">
            <select
              id={`${id}-up`}
              value={answers.up}
              onChange={event => onChange({ ...answers, up: event.currentTarget.value as Model['up'] })}
            >
              <option value="z">z</option>
              <option value="y">y</option>
            </select>
          </span>
          <span className="field-hint">
            {read.up === null ? 'Not stated in the file: this is a guess.' : 'As the file’s standard says.'}
          </span>
        </div>
        {!replaces && (
          <div className="field">
            <label className="field-name" htmlFor={`${id}-kind`}>
              All parts are
            </label>
            <span className="field-box">
              <select
                id={`${id}-kind`}
                value={answers.kind}
                onChange={event => onChange({ ...answers, kind: event.currentTarget.value as ModelKind })}
              >
                {Object.entries(MODEL_KIND_NAMES).map(([value, text]) => (
                  <option key={value} value={value}>
                    {text}
                  </option>
                ))}
              </select>
            </span>
            <span className="field-hint">You can change single parts afterwards.</span>
          </div>
        )}
      </div>
      <figure className="ask-figure">
        <ModelPreview
          read={read}
          unitMm={answers.unitMm}
          up={answers.up}
          skid={skid}
          label={`The model in this unit and axis: ${size}, x by y by z`}
        />
        <figcaption>
          <strong data-testid="model-size">{size}</strong> <span className="quiet">x × y × z</span>
          {skid && (
            <>
              <br />
              <span className="quiet">The skid so far (dashed): {sizeInWords(skid, unit)}</span>
            </>
          )}
          {(times > ODD_TIMES || times < 1 / ODD_TIMES) && (
            <span className="ask-odd" role="status">
              {times > 1
                ? `That is ${Math.round(times)} times as long as the skid. Is the unit right?`
                : `The skid is ${Math.round(1 / times)} times as long. Is the unit right?`}
            </span>
          )}
        </figcaption>
      </figure>
    </form>
  )
}
