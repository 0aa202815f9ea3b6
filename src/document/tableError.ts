/** One cell that could not be read. Row and column count from 1 as a spreadsheet does, the header is a row too. */
export interface TableError {
  readonly row: number
  readonly column: number
  readonly found: string
  readonly wanted: string
  /** Why it is refused, when `wanted` does not say it all; else ''. */
  readonly reason: string
  /** The whole of it, place first. */
  readonly message: string
}

/** After so many errors a table is not read on: more of the same helps nobody. */
export const MOST_ERRORS = 50

export function cellError(
  row: number,
  column: number,
  found: string,
  wanted: string,
  reason = '',
): TableError {
  const message = `row ${row}, column ${column}: found ${found}; wanted ${wanted}${reason && ` (${reason})`}`
  return { row, column, found, wanted, reason, message }
}

/** A cell's text in quotes, shortened when it is long. */
export const quoted = (s: string) => JSON.stringify(s.length > 40 ? `${s.slice(0, 37)}…` : s)

/** The first fifty errors; what came after them was not read, and that is said. */
export function firstErrors(errors: readonly TableError[]): readonly TableError[] {
  const after = errors[MOST_ERRORS]
  if (!after) return errors
  const message = `row ${after.row}: found more than ${MOST_ERRORS} errors, reading stopped here`
  return [...errors.slice(0, MOST_ERRORS), { ...after, message }]
}
