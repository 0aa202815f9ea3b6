import { EXAMPLES, type Figures, readAngle, readLength } from '../../document/figureCell.ts'
import { formatAngle, formatLength } from '../../document/quantity.ts'
import type { TableReading } from '../../document/readLaidOut.ts'
import { isAngle, isLength, type TableLayout } from '../../document/tableLayout.ts'
import { useSession } from '../useStore.ts'

const WAYS: readonly (readonly [Figures, string])[] = [
  ['comma', 'The comma is the decimal mark'],
  ['pointGrouped', 'The comma is the thousands separator'],
  ['commaGrouped', 'Decimal comma, points separate thousands'],
  ['point', 'Neither: treat such cells as errors'],
]

interface Props {
  readonly layout: TableLayout
  readonly said: boolean
  readonly reading: TableReading
  readonly change: (patch: Partial<TableLayout>) => void
}

/** What a comma in a figure means: asked where there is one, with what each answer makes of the table's own cells. */
export function FigureChoice({ layout, said, reading, change }: Props) {
  const unit = useSession(state => state.unit)
  const cells = tellingCells(layout, reading)
  if (cells.length === 0 && !said) return null
  const outcome = ({ column, text }: Cell, figures: Figures) => {
    const angle = isAngle(layout.roles[column]!)
    const read = angle
      ? readAngle(text, figures)
      : readLength(text, layout.columnUnits[column] ?? layout.unit, figures)
    if (!read.ok) return `${text} is invalid`
    return angle
      ? `${text} is ${formatAngle(read.value)}°`
      : `${text} is ${formatLength(read.value, unit, { withUnit: true })}`
  }
  return (
    <fieldset className={said ? undefined : 'asked'}>
      <legend>What a comma means</legend>
      {!said && (
        <p role="alert" className="ask">
          <span aria-hidden="true">⚠ </span>Dogleg does not guess what a comma means. Choose:
        </p>
      )}
      {WAYS.map(([figures, text]) => (
        <label key={figures} className="pick">
          <input
            type="radio"
            name="figures"
            checked={said && layout.figures === figures}
            onChange={() => change({ figures })}
          />
          <span>
            {text}
            {figures !== 'point' && cells.length === 0 && (
              <span className="quiet"> ({EXAMPLES[figures]})</span>
            )}
            {figures !== 'point' &&
              cells.map(cell => (
                <span key={cell.text} className="outcome">
                  {outcome(cell, figures)}
                </span>
              ))}
          </span>
        </label>
      ))}
    </fieldset>
  )
}

interface Cell {
  readonly column: number
  readonly text: string
}

/** Up to two cells with a comma that different answers read differently: one like 1,5 and one like 1,250. */
function tellingCells({ roles, struck }: TableLayout, { lines }: TableReading): Cell[] {
  const found: Cell[] = []
  const looksGrouped = (text: string) => /\d,\d{3}(?!\d)/.test(text)
  for (const line of lines) {
    if (struck.has(line.row)) continue
    for (const [column, cell] of line.cells.entries()) {
      const role = roles[column]
      const text = cell.trim()
      if (!role || !(isLength(role) || isAngle(role)) || !/\d,\d|^-?,\d/.test(text) || text.length > 24)
        continue
      if (!found.some(f => looksGrouped(f.text) === looksGrouped(text))) found.push({ column, text })
      if (found.length === 2) return found
    }
  }
  return found
}
