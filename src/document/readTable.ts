import type { Vec3 } from '../geometry/vec3.ts'
import { cutTable, likelyDelimiter } from './cutTable.ts'
import type { LengthUnit } from './quantity.ts'
import { readLaidOut, type TableReading } from './readLaidOut.ts'
import { cellError, quoted, type TableError } from './tableError.ts'
import {
  type ColumnRole,
  NEEDED,
  OWN_LAYOUT,
  rolesInOrder,
  type TableKind,
  type TableLayout,
} from './tableLayout.ts'
import type { TableRows } from './tableRows.ts'

export interface TableOptions {
  /** What a bare length is in. Default mm. */
  readonly unit?: LengthUnit
  /** Refuse a table without its header line (files); otherwise columns without one are taken in order (paste). */
  readonly headerNeeded?: boolean
  /** Take a column "tag" as that of the runs; otherwise it is one column more. */
  readonly tags?: boolean
  /** What is settled about the layout besides. */
  readonly given?: Partial<TableLayout>
}

type Failed = { readonly ok: false; readonly errors: readonly TableError[] }
export type ReadPoints = { readonly ok: true; readonly points: readonly Vec3[] } | Failed
export type ReadRows = { readonly ok: true; readonly rows: TableRows } | Failed

/**
 * Points from a table `x,y,z` as Dogleg writes it: comma, semicolon or tab separated, cells quoted or not, lengths as
 * parseLength takes them. Every cell that is wrong is an error by row and column; nothing is skipped but blank lines.
 */
export function readPoints(text: string, options: TableOptions = {}): ReadPoints {
  const read = readOwnTable(text, 'points', options)
  const [run] = read.runs
  return run?.kind === 'points' ? { ok: true, points: run.points } : { ok: false, errors: read.errors }
}

/**
 * Bend rows from a table `straight,rotation,angle`: each line the straight before a bend, the plane rotation to it and
 * its angle; the last line has the last straight only. The first rotation is blank or 0: there is no bend before it.
 */
export function readRows(text: string, options: TableOptions = {}): ReadRows {
  const read = readOwnTable(text, 'rows', options)
  const [run] = read.runs
  return run?.kind === 'rows' ? { ok: true, rows: run.rows } : { ok: false, errors: read.errors }
}

const onlyErrors = (...errors: TableError[]): Pick<TableReading, 'errors' | 'runs'> => ({ errors, runs: [] })

/** Columns by the header, where every name of the kind has to stand, or else by order. */
export function readOwnTable(
  text: string,
  kind: TableKind,
  options: TableOptions,
): Pick<TableReading, 'errors' | 'runs'> {
  const names = NEEDED[kind]
  const likely = likelyDelimiter(text)
  const delimiter = options.given?.delimiter ?? (likely === ' ' ? ',' : likely)
  const lines = cutTable(text, delimiter)
  if (!Array.isArray(lines)) return onlyErrors(lines as TableError)
  const head = lines[0]
  if (!head) return onlyErrors(cellError(1, 1, 'an empty table', `a table ${names.join(',')}`))
  const words = head.cells.map(c => c.trim().toLowerCase())
  const header = words.some(w => (names as readonly string[]).includes(w))
  const found = quoted(head.cells.join(','))
  if (!header && options.headerNeeded)
    return onlyErrors(cellError(head.row, 1, found, `the header ${names.join(',')}`))
  for (const name of header ? names : []) {
    const at = words.indexOf(name)
    if (at < 0) return onlyErrors(cellError(head.row, 1, found, `a column "${name}"`))
    if (words.lastIndexOf(name) !== at)
      return onlyErrors(
        cellError(head.row, words.lastIndexOf(name) + 1, `"${name}" again`, 'each column once'),
      )
  }
  const taken: readonly ColumnRole[] = options.tags ? [...names, 'tag'] : names
  const byWord = (word: string): ColumnRole => taken.find(name => name === word) ?? 'unused'
  const roles = header ? words.map(byWord) : rolesInOrder(names.length, kind)
  const unit = options.unit === 'fraction' ? 'in' : (options.unit ?? 'mm')
  const layout = { ...OWN_LAYOUT, unit, ...options.given, kind, delimiter, header, roles }
  return readLaidOut(text, layout, lines)
}
