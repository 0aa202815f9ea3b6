import { tubeSize } from '../../catalogue/tubeSizes.ts'
import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { Tube } from '../../document/types.ts'

/** The tube as a person writes it: its catalogue name while its figures are the table's, else OD × wall. */
export function tubeName(tube: Tube, unit: LengthUnit): string {
  const size = tube.catalogueId === null ? null : tubeSize(tube.catalogueId)
  if (size && size.od === tube.od && size.wall === tube.wall) return size.name
  return `${formatLength(tube.od, unit)} × ${formatLength(tube.wall, unit)} ${unit === 'mm' ? 'mm' : 'in'}`
}
