import { visibleText } from '../document/visibleText.ts'

/** What a spreadsheet takes for the beginning of a formula, in full width and small forms too. */
const FORMULA = '[=+\\-@＝＋－＠﹦﹢﹣﹫−]'
/** Behind what it passes over: spaces, controls, characters without width. */
const BEGINS = new RegExp(`^[\\s\\p{C}]*${FORMULA}|^[\\t\\r\\n]`, 'u')
/** Behind what it may part cells or lines at when it was set to another separator than the comma. */
const BEGINS_LATER = new RegExp(`([;\\t\\r\\n])(?=[\\s\\p{C}]*${FORMULA})`, 'gu')

/**
 * One CSV cell (RFC 4180). A text that a spreadsheet would take for a formula gets an apostrophe before it, and so does
 * what it would take for one behind a separator in the text.
 */
export function csvCell(value: string | number | null): string {
  if (value === null) return ''
  if (typeof value === 'number') return String(value)
  const text = (BEGINS.test(value) ? `'${value}` : value).replace(BEGINS_LATER, "$1'")
  return /[",;\t\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

/** Rows as CSV lines; what nobody sees in a text (controls, line ends, marks of writing direction) is made visible. */
export const csvLines = (rows: readonly (readonly (string | number | null)[])[]): string =>
  rows
    .map(row => row.map(value => csvCell(typeof value === 'string' ? visibleText(value) : value)))
    .map(cells => `${cells.join(',')}\r\n`)
    .join('')
