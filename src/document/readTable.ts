import type { Vec3 } from '../geometry/vec3.ts'
import { type LengthUnit, parseAngle, parseLength } from './quantity.ts'

/** One cell that could not be read. Row and column count from 1 as a spreadsheet does, the header is a row too. */
export interface TableError {
  readonly row: number
  readonly column: number
  readonly found: string
  readonly wanted: string
  readonly message: string
}

export interface TableOptions {
  /** What a bare length is in. Default mm. */
  readonly unit?: LengthUnit
  /** Refuse a table without its header line (files); otherwise columns without one are taken in order (paste). */
  readonly headerNeeded?: boolean
}

/** Bend rows as a table holds them: one straight more than bends. mm and degrees. */
export interface TableRows {
  readonly straights: readonly number[]
  readonly bends: readonly { readonly angle: number; readonly rotation: number | null }[]
}

type Failed = { readonly ok: false; readonly errors: readonly TableError[] }
export type ReadPoints = { readonly ok: true; readonly points: readonly Vec3[] } | Failed
export type ReadRows = { readonly ok: true; readonly rows: TableRows } | Failed

const LONGEST_TABLE = 50_000_000
const MOST_ERRORS = 50

/**
 * Points from a table `x,y,z`: comma, semicolon or tab separated, cells quoted or not, lengths as {@link parseLength}
 * takes them. Every cell that is wrong is an error by row and column; nothing is skipped but blank lines.
 */
export function readPoints(text: string, options: TableOptions = {}): ReadPoints {
  const table = readCells(text, ['x', 'y', 'z'], options)
  if (!table.ok) return table
  const { cells, columns, errors } = table
  const points: Vec3[] = []
  for (const line of cells) {
    const at = (i: number) => lengthCell(line, columns[i]!, options.unit ?? 'mm', errors)
    points.push([at(0), at(1), at(2)])
    if (errors.length > MOST_ERRORS) break
  }
  return errors.length > 0 ? failed(errors) : { ok: true, points }
}

/**
 * Bend rows from a table `straight,rotation,angle`: each line the straight before a bend, the plane rotation to it and
 * its angle; the last line has the last straight only. The first rotation is blank or 0: there is no bend before it.
 */
export function readRows(text: string, options: TableOptions = {}): ReadRows {
  const table = readCells(text, ['straight', 'rotation', 'angle'], options)
  if (!table.ok) return table
  const { cells, columns, errors } = table
  const straights: number[] = []
  const bends: { angle: number; rotation: number | null }[] = []
  const [straightAt, rotationAt, angleAt] = columns as readonly [number, number, number]
  for (const [i, line] of cells.entries()) {
    if (errors.length > MOST_ERRORS) break
    straights.push(lengthCell(line, straightAt, options.unit ?? 'mm', errors))
    const rotation = angleCell(line, rotationAt, errors)
    const angle = angleCell(line, angleAt, errors)
    const wrong = (column: number, found: string, wanted: string) =>
      errors.push(cellError(line.row, column + 1, found, wanted))
    if (i === cells.length - 1) {
      if (rotation !== null)
        wrong(rotationAt, `${rotation}`, 'nothing: the last row has the last straight only')
      if (angle !== null) wrong(angleAt, `${angle}`, 'nothing: the last row has the last straight only')
      continue
    }
    if (angle === null) wrong(angleAt, 'nothing', 'an angle: only the last row has none')
    else if (!Number.isNaN(angle) && !(angle > 0 && angle < 180))
      wrong(angleAt, `${angle}`, 'an angle above 0 and below 180 degrees')
    if (i === 0 && rotation !== null && rotation !== 0 && !Number.isNaN(rotation))
      wrong(rotationAt, `${rotation}`, 'nothing or 0: the first bend has no bend before it to turn from')
    if (i > 0 && rotation === null) wrong(rotationAt, 'nothing', 'an angle in degrees')
    bends.push({ angle: angle ?? 0, rotation: i === 0 ? null : rotation })
  }
  return errors.length > 0 ? failed(errors) : { ok: true, rows: { straights, bends } }
}

interface Line {
  readonly row: number
  readonly cells: readonly string[]
}
interface Cells {
  readonly ok: true
  readonly cells: readonly Line[]
  /** 0-based column of each name, in the order asked for. */
  readonly columns: readonly number[]
  readonly errors: TableError[]
}

/** Cuts the text into lines of cells and finds which column is which, by the header or else by order. */
function readCells(text: string, names: readonly string[], options: TableOptions): Cells | Failed {
  if (text.length > LONGEST_TABLE)
    return failed([cellError(1, 1, `${text.length} characters`, `at most ${LONGEST_TABLE} (50 MB)`)])
  const lines = cut(text)
  if (!Array.isArray(lines)) return failed([lines as TableError])
  const head = lines[0]
  if (!head) return failed([cellError(1, 1, 'an empty table', `a table ${names.join(',')}`)])
  const words = head.cells.map(c => c.trim().toLowerCase())
  const hasHeader = words.some(w => names.includes(w))
  if (!hasHeader && options.headerNeeded)
    return failed([cellError(head.row, 1, quoted(head.cells.join(',')), `the header ${names.join(',')}`)])
  const columns: number[] = []
  for (const [i, name] of names.entries()) {
    const at = hasHeader ? words.indexOf(name) : i
    if (at < 0) return failed([cellError(head.row, 1, quoted(head.cells.join(',')), `a column "${name}"`)])
    if (hasHeader && words.lastIndexOf(name) !== at)
      return failed([cellError(head.row, words.lastIndexOf(name) + 1, `"${name}" again`, 'each column once')])
    columns.push(at)
  }
  const cells = hasHeader ? lines.slice(1) : lines
  const errors: TableError[] = []
  if (cells.length === 0)
    errors.push(cellError(head.row + 1, 1, 'no rows', 'at least one row under the header'))
  const width = hasHeader ? words.length : names.length
  for (const line of cells) {
    const extra = line.cells.findIndex((c, i) => i >= width && c.trim() !== '')
    if (extra >= 0)
      errors.push(cellError(line.row, extra + 1, quoted(line.cells[extra]!), `${width} columns`))
  }
  return { ok: true, cells, columns, errors }
}

/** Lines of cells; blank lines are left out but counted. The separator is the first line's: tab, else ;, else comma. */
function cut(text: string): Line[] | TableError {
  const plain = text.startsWith('\uFEFF') ? text.slice(1) : text
  const first = /[^\r\n]*/.exec(plain.trimStart())?.[0] ?? ''
  const separator = ['\t', ';'].find(s => first.includes(s)) ?? ','
  const lines: Line[] = []
  let row = 1
  let at = 0
  while (at < plain.length) {
    const cells: string[] = []
    const startRow = row
    for (;;) {
      const cell = cellAt(plain, at, separator)
      if (cell === null)
        return cellError(row, cells.length + 1, 'a quote that is not closed', 'a closing quote')
      cells.push(cell.text)
      row += cell.lineBreaks
      at = cell.end
      if (plain[at] !== separator) break
      at++
    }
    if (plain[at] === '\r') at++
    if (plain[at] === '\n') at++
    row++
    if (cells.some(c => c.trim() !== '')) lines.push({ row: startRow, cells })
  }
  return lines
}

function cellAt(text: string, start: number, separator: string) {
  if (text[start] !== '"') return plainCell(text, start, separator, '')
  let end = start + 1
  let inside = ''
  for (;;) {
    const quote = text.indexOf('"', end)
    if (quote < 0) return null
    inside += text.slice(end, quote)
    if (text[quote + 1] !== '"') return plainCell(text, quote + 1, separator, inside)
    inside += '"'
    end = quote + 2
  }
}

/** The rest of a cell up to the separator or the line's end, after what stood in quotes. */
function plainCell(text: string, start: number, separator: string, before: string) {
  let end = start
  while (end < text.length && text[end] !== separator && text[end] !== '\n' && text[end] !== '\r') end++
  return { text: before + text.slice(start, end), end, lineBreaks: before.split('\n').length - 1 }
}

/** The cell's length in mm, or NaN with its error recorded. */
function lengthCell(line: Line, column: number, unit: LengthUnit, errors: TableError[]): number {
  const text = line.cells[column]?.trim() ?? ''
  const plain = unit === 'mm' ? plainNumber(text) : null
  if (plain !== null) return plain
  const parsed = parseLength(text, unit)
  if (parsed.ok) return parsed.mm
  errors.push(
    cellError(line.row, column + 1, text === '' ? 'nothing' : quoted(text), 'a length', parsed.reason),
  )
  return Number.NaN
}

/** The cell's angle in degrees, null when blank, or NaN with its error recorded. */
function angleCell(line: Line, column: number, errors: TableError[]): number | null {
  const text = line.cells[column]?.trim() ?? ''
  if (text === '') return null
  const plain = plainNumber(text)
  if (plain !== null) return plain
  const parsed = parseAngle(text)
  if (parsed.ok) return parsed.deg
  errors.push(cellError(line.row, column + 1, quoted(text), 'an angle in degrees', parsed.reason))
  return Number.NaN
}

/** Numbers as programs write them, with an exponent; what people write goes through the quantity reader. */
function plainNumber(text: string): number | null {
  if (!/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d{1,3})?$/i.test(text)) return null
  const value = Number(text)
  return Number.isFinite(value) ? value + 0 : null
}

const quoted = (s: string) => JSON.stringify(s.length > 40 ? `${s.slice(0, 37)}…` : s)

function cellError(row: number, column: number, found: string, wanted: string, reason = ''): TableError {
  const message = `row ${row}, column ${column}: found ${found}; wanted ${wanted}${reason && ` (${reason})`}`
  return { row, column, found, wanted, message }
}

/** The first fifty errors; what came after them was not read, and that is said. */
function failed(errors: readonly TableError[]): Failed {
  const after = errors[MOST_ERRORS]
  if (!after) return { ok: false, errors }
  const message = `row ${after.row}: found more than ${MOST_ERRORS} errors, reading stopped here`
  return { ok: false, errors: [...errors.slice(0, MOST_ERRORS), { ...after, message }] }
}
