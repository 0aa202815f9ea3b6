import { formatAngle } from '../document/quantity.ts'

/** Turns this near to none or half are so named: no bench reads finer. Degrees. */
const SAME_TURN = 0.05

/** -1 or 1 for a turn that has a way, 0 for none and for a half turn, which is the same both ways. */
export const wayOfTurn = (turn: number | null): number =>
  turn === null || Math.abs(turn) < SAME_TURN || 180 - Math.abs(turn) < SAME_TURN ? 0 : Math.sign(turn)

/**
 * A turn of the tube as said at the bench, seen from the tail towards the bender; degrees in (−180, 180], clockwise
 * positive.
 */
export function turnWords(turn: number | null, digits = 1): string {
  if (turn === null) return 'first bend'
  if (Math.abs(turn) < SAME_TURN) return 'none, same way again'
  if (180 - Math.abs(turn) < SAME_TURN) return 'half turn, 180°'
  return `${formatAngle(Math.abs(turn), digits, true)}° ${turn > 0 ? 'clockwise' : 'counter-clockwise'}`
}
