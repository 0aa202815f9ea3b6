import type { Finding } from '../../checks/finding.ts'
import { formatAngle, formatLength, type LengthUnit } from '../../document/quantity.ts'

/** One figure of a finding in the unit chosen, with its unit; '' when the finding has none. */
export function figure(value: number | null, of: Finding, unit: LengthUnit): string {
  if (value === null) return ''
  if (of.unit === 'deg') return `${formatAngle(value)}°`
  return of.unit === 'mm' ? formatLength(value, unit, { withUnit: true }) : String(value)
}
