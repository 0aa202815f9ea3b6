import { BARE_UNITS, type BareUnit, type LengthUnit } from '../../document/quantity.ts'
import type { TableReading } from '../../document/readLaidOut.ts'
import type { TableError } from '../../document/tableError.ts'
import { type ColumnRole, isLength, NEEDED, type TableLayout } from '../../document/tableLayout.ts'
import { isOfComma } from './isOfComma.ts'
import { isOtherwise, PreviewRow } from './PreviewRow.tsx'

/** So many first rows are shown, and every row with an error besides. */
const SHOWN_ROWS = 100

const NAMES: Readonly<Record<ColumnRole, string>> = {
  x: 'X',
  y: 'Y',
  z: 'Z',
  straight: 'length',
  rotation: 'rotation',
  angle: 'bend angle',
  tag: 'tag',
  unused: 'not used',
}

interface Props {
  readonly layout: TableLayout
  readonly reading: TableReading
  /** Nobody has said yet what a comma means. */
  readonly isCommaOpen: boolean
  readonly unit: LengthUnit
  readonly change: (patch: Partial<TableLayout>) => void
}

/** The first rows with what was read from each cell, a choice of meaning over each column, errors beside the cells. */
export function TablePreview({ layout, reading, isCommaOpen, unit, change }: Props) {
  const { roles, struck } = layout
  const wrong = new Set(reading.errors.map(e => e.row))
  const shown = reading.lines.filter((line, i) => i < SHOWN_ROWS || wrong.has(line.row))
  const more = reading.lines.length - shown.length
  const general = reading.errors.filter(e => !reading.lines.some(l => l.row === e.row))
  const isAsked = (error: TableError) => isCommaOpen && isOfComma(error)
  const faulty = new Set(reading.errors.filter(e => !isAsked(e)).map(e => e.row))
  const wrongRows = reading.lines.filter(l => faulty.has(l.row)).map(l => l.row)
  const unused = roles.flatMap((role, i) => (role === 'unused' ? [columnName(reading, i)] : []))
  const strike = (rows: readonly number[], out: boolean) => {
    const next = new Set(struck)
    for (const row of rows) out ? next.add(row) : next.delete(row)
    change({ struck: next })
  }
  return (
    <div className="tablePreview">
      {general.length > 0 && (
        <ul role="alert" className="faults">
          {general.map(e => (
            <li key={`${e.row} ${e.column} ${e.found}`}>{generalText(e)}</li>
          ))}
        </ul>
      )}
      <div className="previewScroll">
        <table aria-label="How the table is read">
          <thead>
            <tr>
              <th scope="col" className="leaveOut">
                Leave out
              </th>
              <th scope="col" className="rowNumber">
                Row
              </th>
              {roles.map((role, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: a column is its place
                <th scope="col" key={i}>
                  <span className="headText">{columnName(reading, i)}</span>
                  <select
                    aria-label={`${columnName(reading, i)} is`}
                    value={role}
                    onChange={event =>
                      change({ roles: withRole(roles, i, event.currentTarget.value as ColumnRole) })
                    }
                  >
                    {[...NEEDED[layout.kind], 'tag' as const, 'unused' as const].map(r => (
                      <option key={r} value={r}>
                        {NAMES[r]}
                      </option>
                    ))}
                  </select>
                  {isLength(role) && (
                    <select
                      aria-label={`Unit of ${columnName(reading, i)}`}
                      value={layout.columnUnits[i] ?? ''}
                      onChange={event =>
                        change({ columnUnits: withUnit(layout, i, event.currentTarget.value) })
                      }
                    >
                      <option value="">{layout.unit}</option>
                      {BARE_UNITS.filter(u => u !== layout.unit || layout.columnUnits[i] === u).map(u => (
                        <option key={u} value={u}>
                          {u} here
                        </option>
                      ))}
                    </select>
                  )}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {shown.map(line => (
              <PreviewRow
                key={line.row}
                line={line}
                layout={layout}
                unit={unit}
                errors={reading.errors.filter(e => e.row === line.row)}
                isAsked={isAsked}
                strike={out => strike([line.row], out)}
              />
            ))}
          </tbody>
        </table>
        {more > 0 && <p className="quiet">… and {more} more rows, read in the same way.</p>}
      </div>
      <p className="previewFoot">
        {shown.some(line => isOtherwise(line, layout, unit)) && (
          <span className="quiet">As written → as read, lengths in {unit === 'mm' ? 'mm' : 'inches'}.</span>
        )}
        {wrongRows.length > 0 && (
          <button type="button" onClick={() => strike(wrongRows, true)}>
            Leave out {wrongRows.length === 1 ? `row ${wrongRows[0]}` : `the ${wrongRows.length} wrong rows`}
          </button>
        )}
        {struck.size > 0 && (
          <>
            <span>
              {struck.size} {struck.size === 1 ? 'row is' : 'rows are'} left out:{' '}
              {[...struck]
                .sort((a, b) => a - b)
                .slice(0, 12)
                .join(', ')}
              {struck.size > 12 && ' …'}
            </span>
            <button type="button" onClick={() => change({ struck: new Set() })}>
              Use them all
            </button>
          </>
        )}
        {unused.length > 0 && <span className="quiet">Not used: {unused.join(', ')}.</span>}
      </p>
    </div>
  )
}

const generalText = (e: TableError) =>
  e.found.startsWith('no column for ')
    ? `No column is the ${NAMES[e.found.replace('no column for ', '') as ColumnRole]}: choose it above its column.`
    : e.message

function columnName({ head }: TableReading, column: number): string {
  return head?.cells[column]?.trim() || `Column ${column + 1}`
}

/** The column gets the role; the one that had it is no longer used. */
const withRole = (roles: readonly ColumnRole[], column: number, role: ColumnRole): ColumnRole[] =>
  roles.map((r, i) => (i === column ? role : r === role ? 'unused' : r))

function withUnit({ columnUnits }: TableLayout, column: number, unit: string) {
  const next: Record<number, BareUnit> = { ...columnUnits }
  if (unit === '') delete next[column]
  else next[column] = unit as BareUnit
  return next
}
