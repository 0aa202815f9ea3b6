import { cellError, type TableError } from './tableError.ts'

/** What stands between two cells; a space is any run of blanks. */
export type Delimiter = '\t' | ';' | ',' | ' '

/** One line of a table. `row` counts from 1 as a text editor does, blank lines too. */
export interface TableLine {
  readonly row: number
  readonly cells: readonly string[]
}

const LONGEST_TABLE = 50_000_000

const plainText = (text: string) => (text.startsWith('\uFEFF') ? text.slice(1) : text)

/** The first written line's delimiter: tab where there is one, else semicolon, else comma, else blanks. */
export function likelyDelimiter(text: string): Delimiter {
  const first = /[^\r\n]*/.exec(plainText(text).trimStart())?.[0] ?? ''
  const found = (['\t', ';', ','] as const).find(s => first.includes(s))
  return found ?? (/\S\s+\S/.test(first) ? ' ' : ',')
}

/** Lines of cells (RFC 4180 quotes); blank lines are left out but counted. Or the one error that stops cutting. */
export function cutTable(text: string, delimiter: Delimiter): TableLine[] | TableError {
  if (text.length > LONGEST_TABLE)
    return cellError(1, 1, `${text.length} characters`, `at most ${LONGEST_TABLE} (50 MB)`)
  return delimiter === ' ' ? cutAtBlanks(plainText(text)) : cutAtMarks(plainText(text), delimiter)
}

/** Columns set with blanks hold no blanks in their cells, so quotes mean nothing here. */
const cutAtBlanks = (text: string): TableLine[] =>
  text
    .split(/\r\n|\r|\n/)
    .map((line, i) => ({ row: i + 1, cells: line.trim().split(/\s+/) }))
    .filter(line => line.cells[0] !== '')

function cutAtMarks(text: string, delimiter: string): TableLine[] | TableError {
  const lines: TableLine[] = []
  let row = 1
  let at = 0
  while (at < text.length) {
    const cells: string[] = []
    const startRow = row
    for (;;) {
      const cell = cellAt(text, at, delimiter)
      if (cell === null)
        return cellError(row, cells.length + 1, 'a quote that is not closed', 'a closing quote')
      cells.push(cell.text)
      row += cell.lineBreaks
      at = cell.end
      if (text[at] !== delimiter) break
      at++
    }
    if (text[at] === '\r') at++
    if (text[at] === '\n') at++
    row++
    if (cells.some(c => c.trim() !== '')) lines.push({ row: startRow, cells })
  }
  return lines
}

function cellAt(text: string, start: number, delimiter: string) {
  if (text[start] !== '"') return plainCell(text, start, delimiter, '')
  let end = start + 1
  let inside = ''
  for (;;) {
    const quote = text.indexOf('"', end)
    if (quote < 0) return null
    inside += text.slice(end, quote)
    if (text[quote + 1] !== '"') return plainCell(text, quote + 1, delimiter, inside)
    inside += '"'
    end = quote + 2
  }
}

/** The rest of a cell up to the delimiter or the line's end, after what stood in quotes. */
function plainCell(text: string, start: number, delimiter: string, before: string) {
  let end = start
  while (end < text.length && text[end] !== delimiter && text[end] !== '\n' && text[end] !== '\r') end++
  return { text: before + text.slice(start, end), end, lineBreaks: before.split('\n').length - 1 }
}
