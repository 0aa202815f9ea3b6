import type { Delimiter } from '../../document/cutTable.ts'
import { BARE_UNITS, type BareUnit } from '../../document/quantity.ts'
import type { TableReading } from '../../document/readLaidOut.ts'
import type { TableKind, TableLayout } from '../../document/tableLayout.ts'
import { FigureChoice } from './FigureChoice.tsx'

const DELIMITERS: readonly (readonly [Delimiter, string])[] = [
  ['\t', 'Tab'],
  [';', 'Semicolon'],
  [',', 'Comma'],
  [' ', 'Blanks'],
]
const KINDS: readonly (readonly [TableKind, string])[] = [
  ['points', 'Points: x, y, z'],
  ['rows', 'Bend rows: length, rotation, angle'],
]

interface Props {
  readonly layout: TableLayout
  /** Whether a person has said how figures are written. */
  readonly figuresSaid: boolean
  readonly reading: TableReading
  readonly lengths: 'straights' | 'legs'
  readonly change: (patch: Partial<TableLayout>) => void
  readonly setLengths: (lengths: 'straights' | 'legs') => void
}

/** How the table is to be read, as far as its columns do not say it. */
export function LayoutChoices({ layout, figuresSaid, reading, lengths, change, setLengths }: Props) {
  return (
    <>
      <fieldset>
        <legend>It holds</legend>
        {KINDS.map(([kind, text]) => (
          <label key={kind} className="pick">
            <input
              type="radio"
              name="kind"
              checked={layout.kind === kind}
              onChange={() => change({ kind })}
            />
            {text}
          </label>
        ))}
      </fieldset>
      <label className="line">
        Between cells
        <select
          value={layout.delimiter}
          onChange={event => change({ delimiter: event.currentTarget.value as Delimiter })}
        >
          {DELIMITERS.map(([delimiter, text]) => (
            <option key={delimiter} value={delimiter}>
              {text}
            </option>
          ))}
        </select>
      </label>
      <label className="line">
        First line
        <select
          value={layout.header ? 'header' : 'data'}
          onChange={event => change({ header: event.currentTarget.value === 'header' })}
        >
          <option value="header">column names</option>
          <option value="data">data</option>
        </select>
      </label>
      <label className="line">
        Lengths are in
        <select
          value={layout.unit}
          onChange={event => change({ unit: event.currentTarget.value as BareUnit })}
        >
          {BARE_UNITS.map(unit => (
            <option key={unit}>{unit}</option>
          ))}
        </select>
      </label>
      <FigureChoice layout={layout} said={figuresSaid} reading={reading} change={change} />
      {layout.kind === 'rows' && (
        <fieldset>
          <legend>How to read its rows</legend>
          <label className="stacked">
            Lengths run between
            <select
              value={lengths}
              onChange={event => setLengths(event.currentTarget.value as 'straights' | 'legs')}
            >
              <option value="straights">tangent points (as here)</option>
              <option value="legs">intersections, ends included</option>
            </select>
          </label>
          <label className="stacked">
            A positive rotation, looking from A to B, is
            <select
              value={layout.positive}
              onChange={event => change({ positive: event.currentTarget.value as TableLayout['positive'] })}
            >
              <option value="clockwise">clockwise (as here)</option>
              <option value="counterClockwise">counter-clockwise</option>
            </select>
          </label>
          <label className="stacked">
            A rotation is in the row of
            <select
              value={layout.rotationStands}
              onChange={event =>
                change({ rotationStands: event.currentTarget.value as TableLayout['rotationStands'] })
              }
            >
              <option value="withItsBend">the bend it leads to (as here)</option>
              <option value="withBendBefore">the bend before it</option>
            </select>
          </label>
        </fieldset>
      )}
    </>
  )
}
