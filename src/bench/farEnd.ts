import { add, addScaled, cross, DEG, distance, sub, turnDirection, type Vec3 } from '../geometry/vec3.ts'
import type { Stock } from './layOut.ts'

/**
 * How far end B comes away from where it is wanted when bends settle at other angles, mm ≥ 0, with end A and the
 * first bend's plane held. The stock in a bend stays the arc drawn in, so its radius is arc / settled angle.
 *
 * @param wanted settled angles as laid out, degrees, A order.
 * @param settled measured angles, degrees, A order; null: taken as wanted.
 * @throws RangeError when a measured angle is not in (0, 180).
 */
export function farEndOff(
  stock: Stock,
  wanted: readonly number[],
  settled: readonly (number | null)[],
): number {
  const got = wanted.map((angle, k) => settled[k] ?? angle)
  got.forEach((angle, k) => {
    if (!(angle > 0 && angle < 180))
      throw new RangeError(
        `bend ${k + 1}: found a settled angle of ${angle}°, wanted more than 0° and less than 180°`,
      )
  })
  return distance(farEnd(stock, wanted), farEnd(stock, got))
}

/** End B from end A at the origin heading +x, the first bend turning towards +y, mm. */
function farEnd(stock: Stock, angles: readonly number[]): Vec3 {
  let at: Vec3 = [0, 0, 0]
  let direction: Vec3 = [1, 0, 0]
  let normal: Vec3 = [0, 0, 1]
  let plane = stock.planes[0] ?? 0
  angles.forEach((angle, k) => {
    at = addScaled(at, direction, stock.straights[k]!)
    normal = turnDirection(normal, direction, (stock.planes[k]! - plane) * DEG)
    plane = stock.planes[k]!
    const radius = stock.arcs[k]! / (angle * DEG)
    const centre = addScaled(at, cross(normal, direction), radius)
    at = add(centre, turnDirection(sub(at, centre), normal, angle * DEG))
    direction = turnDirection(direction, normal, angle * DEG)
  })
  return addScaled(at, direction, stock.straights.at(-1)!)
}
