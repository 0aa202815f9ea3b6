import { TUBE_SIZES } from '../catalogue/tubeSizes.ts'
import { exactLength, formatLength, type LengthUnit } from './quantity.ts'
import type { Tube } from './types.ts'

/** Tables in inches and in mm give the same figure to within the rounding of a product. mm. */
const SAME_MM = 1e-9

/**
 * A tube's OD and wall as a person writes them, the same wherever the tube is named: the catalogue's name for these
 * figures, else OD × wall in the unit asked for with every digit that counts (to 0.0001), and the unit.
 */
export function tubeSizeText({ od, wall }: Pick<Tube, 'od' | 'wall'>, unit: LengthUnit): string {
  const size = TUBE_SIZES.find(s => Math.abs(s.od - od) <= SAME_MM && Math.abs(s.wall - wall) <= SAME_MM)
  if (size) return size.name
  const whole = unit === 'fraction' ? 'in' : unit
  const fraction = unit === 'fraction' ? exactLength(od, 'fraction') : ''
  const outside = fraction.includes('/') ? fraction : formatLength(od, whole, { digits: 4 })
  return `${outside} × ${formatLength(wall, whole, { digits: 4 })} ${whole}`
}
