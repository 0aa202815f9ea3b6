/** One CSV cell (RFC 4180). A text that a spreadsheet would take for a formula gets an apostrophe before it. */
export function csvCell(value: string | number | null): string {
  if (value === null) return ''
  if (typeof value === 'number') return String(value)
  const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value
  return /[",;\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

export const csvLines = (rows: readonly (readonly (string | number | null)[])[]): string =>
  rows.map(row => `${row.map(csvCell).join(',')}\r\n`).join('')
