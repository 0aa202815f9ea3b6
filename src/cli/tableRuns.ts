import { cutTable, type Delimiter, likelyDelimiter } from '../document/cutTable.ts'
import type { Figures } from '../document/figureCell.ts'
import { BARE_UNITS } from '../document/quantity.ts'
import { readLaidOut } from '../document/readLaidOut.ts'
import { readOwnTable } from '../document/readTable.ts'
import {
  type ColumnRole,
  isHeader,
  NEEDED,
  OWN_LAYOUT,
  type TableKind,
  type TableLayout,
} from '../document/tableLayout.ts'
import type { TableRun } from '../document/tableRows.ts'
import { BadInput, badFile } from './badInput.ts'
import type { Given } from './command.ts'
import { oneOf } from './optionValue.ts'

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
  if (read.errors.length > 0) throw badFile(file, read.errors)
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
function columnsOption(
  { columns }: { readonly columns?: Given[string] },
  kind: TableKind,
): ColumnRole[] | null {
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
