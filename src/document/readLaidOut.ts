import type { Vec3 } from '../geometry/vec3.ts'
import { cutTable, type TableLine } from './cutTable.ts'
import { readAngle, readLength } from './figureCell.ts'
import { bendRows } from './readBendRows.ts'
import { cellError, firstErrors, MOST_ERRORS, quoted, type TableError } from './tableError.ts'
import { isAngle, isLength, NEEDED, type TableLayout } from './tableLayout.ts'
import type { FigureLine, TableRun } from './tableRows.ts'

export interface TableReading {
  readonly head: TableLine | null
  /** Everything under the header, rows left out on purpose too. */
  readonly lines: readonly FigureLine[]
  readonly errors: readonly TableError[]
  /** In the order of the table; none while there are errors. */
  readonly runs: readonly TableRun[]
}

/**
 * Reads a table as its layout says. Every cell that is wrong is an error by row and column; nothing is skipped but
 * blank lines and the rows that the layout strikes out. Tags part the table into runs: a blank one goes on with the
 * run above, one that comes again after another is an error.
 *
 * @param cut the text cut at the layout's delimiter, where that is done already.
 */
export function readLaidOut(
  text: string,
  layout: TableLayout,
  cut: TableLine[] | TableError = cutTable(text, layout.delimiter),
): TableReading {
  if (!Array.isArray(cut)) return { head: null, lines: [], errors: [cut as TableError], runs: [] }
  const head = layout.header ? (cut[0] ?? null) : null
  const body = layout.header ? cut.slice(1) : cut
  const errors: TableError[] = columnErrors(layout, head?.row ?? 1)
  if (body.length === 0)
    errors.push(
      head
        ? cellError(head.row + 1, 1, 'no rows', 'at least one row under the header')
        : cellError(1, 1, 'an empty table', `a table ${NEEDED[layout.kind].join(',')}`),
    )
  const lines: FigureLine[] = []
  for (const line of body) {
    const isRead = !layout.struck.has(line.row) && errors.length <= MOST_ERRORS
    lines.push({ ...line, figures: isRead ? figuresOf(line, layout, errors) : [] })
  }
  const kept = lines.filter(line => !layout.struck.has(line.row))
  if (body.length > 0 && kept.length === 0)
    errors.push(cellError(body[0]!.row, 1, 'every row left out', 'at least one row'))
  const runs = errors.length > MOST_ERRORS ? [] : runsOf(kept, layout, errors)
  errors.sort((a, b) => a.row - b.row || a.column - b.column)
  return { head, lines, errors: firstErrors(errors), runs: errors.length > 0 ? [] : runs }
}

function columnErrors({ roles, kind }: TableLayout, row: number): TableError[] {
  const errors: TableError[] = []
  for (const role of NEEDED[kind])
    if (!roles.includes(role)) errors.push(cellError(row, 1, `no column for ${role}`, `a column "${role}"`))
  roles.forEach((role, i) => {
    if (role !== 'unused' && roles.indexOf(role) !== i)
      errors.push(cellError(row, i + 1, `"${role}" again`, 'each column once'))
  })
  return errors
}

function figuresOf(line: TableLine, layout: TableLayout, errors: TableError[]): (number | null)[] {
  const { roles, unit, columnUnits, figures } = layout
  const extra = line.cells.findIndex((c, i) => i >= roles.length && c.trim() !== '')
  if (extra >= 0)
    errors.push(cellError(line.row, extra + 1, quoted(line.cells[extra]!), `${roles.length} columns`))
  return roles.map((role, i) => {
    if (!isLength(role) && !isAngle(role)) return null
    const text = line.cells[i]?.trim() ?? ''
    if (text === '' && isAngle(role)) return null
    const read = isAngle(role) ? readAngle(text, figures) : readLength(text, columnUnits[i] ?? unit, figures)
    if (read.ok) return read.value
    const wanted = isAngle(role) ? 'an angle in degrees' : 'a length'
    errors.push(cellError(line.row, i + 1, text === '' ? 'nothing' : quoted(text), wanted, read.reason))
    return Number.NaN
  })
}

function runsOf(lines: readonly FigureLine[], layout: TableLayout, errors: TableError[]): TableRun[] {
  const { roles, kind } = layout
  const runs: TableRun[] = []
  const [x, y, z] = [roles.indexOf('x'), roles.indexOf('y'), roles.indexOf('z')]
  for (const { tag, lines: own } of parted(lines, roles.indexOf('tag'), errors)) {
    const first = { tag, row: own[0]!.row }
    if (kind === 'rows') {
      runs.push({ ...first, kind, rows: bendRows(own, layout, errors) })
      continue
    }
    const points = own.map(l => [l.figures[x] ?? 0, l.figures[y] ?? 0, l.figures[z] ?? 0] as Vec3)
    runs.push({ ...first, kind, points })
  }
  return runs
}

/** The lines of each tag. */
function parted(lines: readonly FigureLine[], column: number, errors: TableError[]) {
  const parts: { tag: string; lines: FigureLine[] }[] = []
  for (const line of lines) {
    const tag = column < 0 ? '' : (line.cells[column]?.trim() ?? '')
    const now = parts.at(-1)
    if (now && (tag === '' || tag === now.tag)) now.lines.push(line)
    else {
      if (column >= 0 && tag === '')
        errors.push(cellError(line.row, column + 1, 'nothing', 'the tag of the first run'))
      if (parts.some(p => p.tag === tag))
        errors.push(
          cellError(
            line.row,
            column + 1,
            `${quoted(tag)} again, after another run`,
            'the rows of a run together',
          ),
        )
      parts.push({ tag, lines: [line] })
    }
  }
  return parts
}
