import { DEG } from '../geometry/vec3.ts'
import { type BendRadius, radiusAt } from './making.ts'
import type { Rows } from './rows.ts'

/**
 * Bend rows whose lengths ran from intersection to intersection (the legs, end A and end B included) as rows with
 * straights: each leg less the tangent length CLR·tan(θ/2) of the bends at its ends. A leg too short for its bends
 * comes out negative.
 *
 * @param clr of every bend, or of a bend by its angle.
 */
export function rowsFromLegs(legs: Rows, clr: BendRadius): Rows {
  const tangent = (k: number) => {
    const bend = legs.bends[k]
    return bend ? radiusAt(clr, bend.angle) * Math.tan((bend.angle * DEG) / 2) : 0
  }
  return { straights: legs.straights.map((leg, i) => leg - tangent(i - 1) - tangent(i)), bends: legs.bends }
}
