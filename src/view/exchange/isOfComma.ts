import type { TableError } from '../../document/tableError.ts'

/** Whether a cell is refused only as long as nobody has said what a comma means. */
export const isOfComma = ({ reason }: TableError): boolean => /comma may be a decimal/.test(reason)
