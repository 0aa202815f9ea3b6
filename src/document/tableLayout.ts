import { cutTable, type Delimiter, likelyDelimiter } from './cutTable.ts'
import { type Figures, readLength } from './figureCell.ts'
import type { BareUnit } from './quantity.ts'

export type TableKind = 'points' | 'rows'
/** What a column holds; 'straight' is whatever length the layout's `lengths` says. */
export type ColumnRole = 'x' | 'y' | 'z' | 'straight' | 'rotation' | 'angle' | 'tag' | 'unused'

/** The columns that a table of each kind has to have. */
export const NEEDED: Readonly<Record<TableKind, readonly ColumnRole[]>> = {
  points: ['x', 'y', 'z'],
  rows: ['straight', 'rotation', 'angle'],
}
export const isLength = (role: ColumnRole) => 'xyz'.includes(role) || role === 'straight'
export const isAngle = (role: ColumnRole) => role === 'rotation' || role === 'angle'

/** How a table is to be read: everything that its text alone does not say. */
export interface TableLayout {
  readonly kind: TableKind
  readonly delimiter: Delimiter
  readonly figures: Figures
  /** The first line names the columns. */
  readonly header: boolean
  /** One for each column of the first line. */
  readonly roles: readonly ColumnRole[]
  /** What a bare length is in. */
  readonly unit: BareUnit
  /** Columns whose bare lengths are in a unit of their own, by 0-based column. */
  readonly columnUnits: Readonly<Record<number, BareUnit>>
  /** Which way a positive rotation turns, looking along the tube from A to B. */
  readonly positive: 'clockwise' | 'counterClockwise'
  /** The row that a rotation stands in: that of the bend it leads to, or that of the bend before. */
  readonly rotationStands: 'withItsBend' | 'withBendBefore'
  /** Rows left out on purpose, as the text numbers them. */
  readonly struck: ReadonlySet<number>
}

/** How Dogleg's own tables are laid out, apart from their columns. */
export const OWN_LAYOUT = {
  figures: 'point',
  unit: 'mm',
  columnUnits: {},
  positive: 'clockwise',
  rotationStands: 'withItsBend',
  struck: new Set<number>(),
} as const satisfies Partial<TableLayout>

/** Header words, lower case and without their unit. 'y, b, c' are feed, turn and bend of a machine's programme. */
const WORDS: Readonly<Record<TableKind, readonly (readonly [ColumnRole, readonly string[]])[]>> = {
  points: [
    ['x', ['x']],
    ['y', ['y']],
    ['z', ['z']],
    ['tag', ['tag', 'run', 'line']],
  ],
  rows: [
    ['straight', ['straight', 'length', 'leg', 'distance', 'feed', 'l', 'y']],
    ['rotation', ['rotation', 'plane rotation', 'turn', 'twist', 'r', 'b']],
    ['angle', ['angle', 'bend', 'bend angle', 'a', 'c']],
    ['tag', ['tag', 'run', 'line']],
  ],
}

/** A header cell's word and the unit it names: `x (mm)`, `Length [in]`, `z mm`. */
function headWord(cell: string): { word: string; unit: BareUnit | null } {
  const [, word = '', unit] = /^\s*(.*?)[\s,;/]*[[(]?\b(mm|cm|m|in|ft)?\b[\])]?\s*$/i.exec(cell) ?? []
  const known = word !== '' && unit ? (unit.toLowerCase() as BareUnit) : null
  return { word: (known ? word : cell).trim().toLowerCase(), unit: known }
}

/** The roles that header words name; a second column of the same word stays unused. */
export function rolesOfHead(cells: readonly string[], kind: TableKind): ColumnRole[] {
  const given = new Set<ColumnRole>()
  return cells.map(cell => {
    const { word } = headWord(cell)
    const role = WORDS[kind].find(([, words]) => words.includes(word))?.[0] ?? 'unused'
    if (role === 'unused' || given.has(role)) return 'unused'
    given.add(role)
    return role
  })
}

/** The roles of columns in the usual order, for a table without a header; columns past those needed stay unused. */
export const rolesInOrder = (width: number, kind: TableKind): ColumnRole[] =>
  Array.from({ length: width }, (_, i) => NEEDED[kind][i] ?? 'unused')

/** The usual order over those columns that hold figures and have no other name. */
function rolesByFigures(
  first: readonly string[],
  below: readonly string[],
  named: readonly ColumnRole[],
  kind: TableKind,
): ColumnRole[] {
  const left = [...NEEDED[kind]]
  return first.map((_, i) => {
    const own = named[i] ?? 'unused'
    if (own !== 'unused') return own
    // A first rotation is blank, so in rows a blank cell may be one.
    const fits = holdsFigure(below[i] ?? '') || (kind === 'rows' && (below[i] ?? '').trim() === '')
    return (fits && left.shift()) || 'unused'
  })
}

/**
 * The layout that a table most likely has, for a person to look at and correct. A decimal comma is never among the
 * guesses, and a unit only where the header names it.
 *
 * @param given what is settled already.
 * @param bare what bare lengths are in where the header does not say.
 */
export function likelyLayout(
  text: string,
  given: Partial<TableLayout> = {},
  bare: BareUnit = 'mm',
): TableLayout {
  const delimiter = given.delimiter ?? likelyDelimiter(text)
  const lines = cutTable(text, delimiter)
  const first = (Array.isArray(lines) ? lines[0]?.cells : undefined) ?? []
  const named = (kind: TableKind) => rolesOfHead(first, kind).filter(r => NEEDED[kind].includes(r)).length
  const kind = given.kind ?? (named('rows') > named('points') ? 'rows' : 'points')
  const header = given.header ?? (first.length > 0 && first.every(cell => !holdsFigure(cell)))
  const byHead = header ? rolesOfHead(first, kind) : []
  const below = (Array.isArray(lines) ? lines[header ? 1 : 0]?.cells : undefined) ?? []
  const roles =
    given.roles ??
    (byHead.some(r => NEEDED[kind].includes(r)) ? byHead : rolesByFigures(first, below, byHead, kind))
  const units = header ? first.map(cell => headWord(cell).unit) : []
  const lengths = roles.flatMap((role, i) => (isLength(role) ? [units[i] ?? null] : []))
  const shared = lengths.every(u => u === lengths[0]) ? (lengths[0] ?? null) : null
  const columnUnits = Object.fromEntries(
    units.flatMap((u, i) => (u && isLength(roles[i]!) ? [[i, u]] : [])),
  ) as Record<number, BareUnit>
  return {
    ...OWN_LAYOUT,
    ...given,
    kind,
    delimiter,
    header,
    roles,
    unit: given.unit ?? shared ?? bare,
    columnUnits: given.columnUnits ?? (shared ? {} : columnUnits),
  }
}

/** The first line is a header when none of the cells that should hold figures can be one. */
export const isHeader = (cells: readonly string[], roles: readonly ColumnRole[]): boolean =>
  !roles.some((role, i) => (isLength(role) || isAngle(role)) && holdsFigure(cells[i] ?? ''))

const holdsFigure = (cell: string) =>
  /^\s*[-+−]?[.,]?\d/.test(cell) || readLength(cell.trim(), 'mm', 'point').ok
