import { formatAngle, formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { TableError } from '../../document/tableError.ts'
import { isAngle, type TableLayout } from '../../document/tableLayout.ts'
import type { FigureLine } from '../../document/tableRows.ts'

interface Props {
  readonly line: FigureLine
  readonly layout: TableLayout
  readonly unit: LengthUnit
  /** Those of this row. */
  readonly errors: readonly TableError[]
  /** Whether the error is only that nobody has said what a comma means. */
  readonly isAsked: (error: TableError) => boolean
  readonly strike: (out: boolean) => void
}

/** A row of the table: each cell as written, and as read where that is written otherwise; faults beside their cells. */
export function PreviewRow({ line, layout, unit, errors, isAsked, strike }: Props) {
  const out = layout.struck.has(line.row)
  const extra = errors.filter(e => e.column > layout.roles.length)
  return (
    <tr className={out ? 'struck' : errors.some(e => !isAsked(e)) ? 'wrong' : undefined}>
      <td className="leaveOut">
        <label className="strike">
          <input
            type="checkbox"
            checked={out}
            aria-label={`Leave out row ${line.row}`}
            onChange={event => strike(event.currentTarget.checked)}
          />
        </label>
      </td>
      <th scope="row" className="rowNumber">
        {line.row}
      </th>
      {layout.roles.map((role, i) => {
        const error = errors.find(e => e.column === i + 1)
        const read = readText(line, i, layout, unit)
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: a cell is its place
          <td key={i} className={role === 'unused' || role === 'tag' ? role : undefined}>
            {!saysTheSame(read, line.cells[i]) && <span className="raw">{line.cells[i] ?? ''}</span>}
            {read !== null && <span className="read">{read}</span>}
            {error && <CellFault error={error} isAsked={isAsked(error)} />}
          </td>
        )
      })}
      {extra.length > 0 && (
        <td>
          {extra.map(e => (
            <CellFault key={e.column} error={e} isAsked={false} />
          ))}
        </td>
      )}
    </tr>
  )
}

/** Whether a cell of the row is written otherwise than what was read from it is shown. */
export const isOtherwise = (line: FigureLine, layout: TableLayout, unit: LengthUnit): boolean =>
  line.cells.some((cell, i) => {
    const read = readText(line, i, layout, unit)
    return read !== null && !saysTheSame(read, cell)
  })

/** What was read from a cell, in the unit shown; null when nothing was. */
function readText(line: FigureLine, column: number, layout: TableLayout, unit: LengthUnit): string | null {
  const figure = line.figures[column]
  const role = layout.roles[column]
  if (!role || figure == null || Number.isNaN(figure) || layout.struck.has(line.row)) return null
  return isAngle(role) ? `${formatAngle(figure)}°` : formatLength(figure, unit)
}

const saysTheSame = (read: string | null, cell = '') => read !== null && read.replace('°', '') === cell.trim()

/** A fault in words; what only waits for the one answer above is marked, not told again in each cell. */
const CellFault = ({ error, isAsked }: { error: TableError; isAsked: boolean }) =>
  isAsked ? (
    <abbr className="cellAsked" title="Waits for what a comma means">
      ?
    </abbr>
  ) : (
    <span className="cellFault" title={error.message}>
      <span aria-hidden="true">⚠ </span>
      {faultText(error)}
    </span>
  )

const faultText = ({ message, reason, found, wanted }: TableError) =>
  /^row \d+: /.test(message)
    ? message
    : reason || `${found === 'nothing' ? 'nothing here; ' : ''}wanted ${wanted}`
