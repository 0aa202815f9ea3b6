import { BadInput, listed } from './badInput.ts'
import { cutTable, type Delimiter, likelyDelimiter } from './document/cutTable.ts'
import type { Figures } from './document/figureCell.ts'
import { BARE_UNITS } from './document/quantity.ts'
import { readLaidOut } from './document/readLaidOut.ts'
import { readOwnTable } from './document/readTable.ts'
import {
  type ColumnRole,
  isHeader,
  NEEDED,
  OWN_LAYOUT,
  type TableKind,
  type TableLayout,
} from './document/tableLayout.ts'
import type { TableRun } from './document/tableRows.ts'

/** Options that say how a table is laid out. */
export const TABLE_OPTIONS = ['columns', 'delimiter', 'decimal', 'unit'] as const
/** Those that only bend rows have besides. */
export const ROW_OPTIONS = ['turns', 'lengths'] as const

type Given = { readonly [option: string]: string | boolean | readonly string[] | undefined }

const DELIMITERS: Readonly<Record<string, Delimiter>> = { comma: ',', semicolon: ';', tab: '\t', space: ' ' }
const FIGURES: Readonly<Record<string, Figures>> = { point: 'point', comma: 'comma' }
const POSITIVE = { clockwise: 'clockwise', counter: 'counterClockwise' } as const

/**
 * The runs in a table, by its header or as `--columns` says; a column of tags parts them.
 *
 * @throws BadInput listing every wrong cell, or the option that is not understood.
 */
export function tableRuns(file: string, text: string, kind: TableKind, values: Given): readonly TableRun[] {
  const unit = oneOf(values, 'unit', Object.fromEntries(BARE_UNITS.map(u => [u, u])))
  const figures = oneOf(values, 'decimal', FIGURES)
  const delimiter = oneOf(values, 'delimiter', DELIMITERS)
  const positive = oneOf(values, 'turns', POSITIVE)
  const given: Partial<TableLayout> = {
    ...(unit && { unit }),
    ...(figures && { figures }),
    ...(delimiter && { delimiter }),
    ...(positive && { positive }),
  }
  const roles = columnsOption(values, kind)
  const read = roles
    ? readLaidOut(text, layoutOf(text, { kind, roles, delimiter: delimiter ?? likelyDelimiter(text) }, given))
    : readOwnTable(text, kind, { headerNeeded: true, tags: true, given })
  if (read.errors.length > 0) throw new BadInput(listed(file, read.errors))
  return read.runs
}

function layoutOf(
  text: string,
  known: Pick<TableLayout, 'kind' | 'roles' | 'delimiter'>,
  given: Partial<TableLayout>,
): TableLayout {
  const lines = cutTable(text, known.delimiter)
  const first = (Array.isArray(lines) ? lines[0]?.cells : undefined) ?? []
  return { ...OWN_LAYOUT, ...given, ...known, header: isHeader(first, known.roles) }
}

/** What each column is, from `--columns x,y,z,-`; null when not given. */
function columnsOption({ columns }: Given, kind: TableKind): ColumnRole[] | null {
  if (typeof columns !== 'string') return null
  const known: readonly ColumnRole[] = [...NEEDED[kind], 'tag']
  return columns.split(',').map(word => {
    if (word.trim() === '-') return 'unused'
    const role = known.find(r => r === word.trim())
    if (role) return role
    throw new BadInput(
      `--columns: found "${word.trim()}"; wanted each column as one of ${known.join(', ')}, or - for one that is not used`,
    )
  })
}

/** The option's meaning, undefined when not given. @throws BadInput listing what it may be. */
export function oneOf<T>(values: Given, name: string, meanings: Readonly<Record<string, T>>): T | undefined {
  const word = values[name]
  if (word === undefined) return undefined
  if (typeof word === 'string' && Object.hasOwn(meanings, word)) return meanings[word]
  throw new BadInput(`--${name}: found "${word}"; wanted one of ${Object.keys(meanings).join(', ')}`)
}
