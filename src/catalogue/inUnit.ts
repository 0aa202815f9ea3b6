/** A table's figure in its row's unit as mm. Table inches have at most 4 decimals, so ×25.4 ends by the sixth. */
export const tableMm = (value: number, unit: string): number => {
  if (unit === 'mm') return value
  if (unit === 'in') return Math.round(value * 25.4 * 1e6) / 1e6
  throw new RangeError(`reference table: found the unit "${unit}", wanted mm or in`)
}
