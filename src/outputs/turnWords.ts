import { isHalfTurn, SAME_TURN_DEG } from '../bender/layOut.ts'
import { formatAngle } from '../document/quantity.ts'

/** -1 or 1 for a turn of the tube at the bench, a half turn included: it has a way; 0 for none. */
export const wayOfTurn = (turn: number | null): number =>
  turn === null || Math.abs(turn) < SAME_TURN_DEG ? 0 : Math.sign(turn)

/**
 * A turn of the tube as said at the bench, seen from the tail towards the bender; degrees, clockwise positive. A half
 * turn is 180° whatever its last digits are.
 */
export function turnWords(turn: number | null, digits = 1): string {
  if (turn === null) return 'first bend'
  if (Math.abs(turn) < SAME_TURN_DEG) return 'no rotation, same direction'
  if (isHalfTurn(turn)) return `180° ${turn > 0 ? 'clockwise' : 'counter-clockwise'}`
  return `${formatAngle(Math.abs(turn), digits, true)}° ${turn > 0 ? 'clockwise' : 'counter-clockwise'}`
}
