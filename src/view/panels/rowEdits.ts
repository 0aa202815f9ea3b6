import { editRow, type RowEdit } from '../../solve/editRows.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import type { Edit } from '../fields/applyEdit.ts'

/** Sets one straight, angle or turn of a run, keeping the end chosen in the session; refused with the reason. */
export const rowEdit =
  (runId: string, kind: RowEdit['kind'], index: number) =>
  (to: number): Edit =>
  settled => {
    const result = editRow(settled, runId, { kind, index, to }, sessionStore.getState().keepEnd)
    return result.ok ? result.document : { refused: result.reason }
  }

/** A turn as a person says it: its size and way round, looking from A to B. */
export function turnInWords(deg: number, show: (deg: number) => string): string {
  const size = show(Math.abs(deg))
  if (Number(size) === 0) return 'no rotation'
  if (Number(size) === 180) return 'half turn'
  return `${size}° ${deg > 0 ? 'clockwise' : 'counter-clockwise'}`
}
