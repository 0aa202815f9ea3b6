import { formatLength } from '../../document/quantity.ts'
import type { TableKind } from '../../document/tableLayout.ts'
import { tubeSizeText } from '../../document/tubeSizeText.ts'
import type { SkidDocument } from '../../document/types.ts'
import { useSession } from '../useStore.ts'
import { type Place, WAYS, type Way } from './placeChoice.ts'
import { ROWS_APART_MM } from './placeRuns.ts'

interface Props {
  readonly document: SkidDocument
  readonly kind: TableKind
  /** How many runs the table holds; 0 while it cannot be read. */
  readonly runs: number
  readonly place: Place
  /** Why the runs cannot begin there; '' when they can. */
  readonly problem: string
  readonly change: (patch: Partial<Place>) => void
}

/** What becomes of the table: new runs, other points for a run that is there, or a new skid; and where it begins. */
export function Destination({ document, kind, runs, place, problem, change }: Props) {
  const unit = useSession(state => state.unit)
  const length = (mm: number) => formatLength(mm, unit, { withUnit: true })
  const targets: readonly (readonly [Place['target'], string])[] = [
    ['newRuns', 'New runs in this skid'],
    ...(document.runs.length > 0 ? [['replace', 'New points for a run of this skid'] as const] : []),
    ['newSkid', 'A new skid'],
  ]
  const begins = place.target === 'newRuns'
  return (
    <fieldset>
      <legend>It becomes</legend>
      {targets.map(([target, text]) => (
        <label key={target} className="pick">
          <input
            type="radio"
            name="target"
            checked={place.target === target}
            onChange={() => change({ target })}
          />
          {text}
        </label>
      ))}
      {document.runs.length > 0 && (
        <label className="stacked">
          {place.target === 'replace' ? 'The run' : 'Tube, CLR and bender as'}
          <select value={place.like} onChange={event => change({ like: event.currentTarget.value })}>
            {document.runs.map(r => (
              <option key={r.id} value={r.id}>
                {r.tag}: {tubeSizeText(r.tube, unit)}, CLR {length(r.clr)}
              </option>
            ))}
          </select>
        </label>
      )}
      {begins && (
        <label className="stacked">
          {runs > 1 ? 'The first starts' : 'End A is'}
          <select value={place.start} onChange={event => change({ start: event.currentTarget.value })}>
            <option value="asWritten">
              {kind === 'points' ? 'where the table puts it' : 'at 0, 0, 0, heading +X'}
            </option>
            <option value="point">at a point</option>
            {document.fittings.map(f => (
              <option key={f.id} value={f.id}>
                in port {f.name}
              </option>
            ))}
          </select>
        </label>
      )}
      {begins && place.start === 'point' && (
        <div className="startPoint">
          {place.at.map((text, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: an axis is its place
            <label key={i}>
              {'XYZ'[i]}
              <input
                className="number"
                value={text}
                onChange={event => {
                  const at = [...place.at] as [string, string, string]
                  at[i] = event.currentTarget.value
                  change({ at })
                }}
              />
            </label>
          ))}
        </div>
      )}
      {begins && kind === 'rows' && place.start === 'point' && (
        <WayChoice name="Heading" value={place.heading} change={heading => change({ heading })} />
      )}
      {begins && kind === 'rows' && place.start !== 'asWritten' && (
        <WayChoice
          name="The first bend turns towards"
          value={place.towards}
          change={towards => change({ towards })}
        />
      )}
      {kind === 'rows' && runs > 1 && place.target !== 'replace' && (
        <p className="quiet">
          Bend rows give no position: each run starts {length(ROWS_APART_MM)} beside the last.
        </p>
      )}
      {kind === 'rows' && place.target === 'replace' && (
        <p className="quiet">End A, its heading and the direction of the first bend stay.</p>
      )}
      {problem && (
        <p role="alert" className="refusal">
          {problem}
        </p>
      )}
    </fieldset>
  )
}

const WayChoice = (props: { name: string; value: Way; change: (way: Way) => void }) => (
  <label className="line">
    {props.name}
    <select value={props.value} onChange={event => props.change(event.currentTarget.value as Way)}>
      {WAYS.map(way => (
        <option key={way}>{way}</option>
      ))}
    </select>
  </label>
)
