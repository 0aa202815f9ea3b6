import type { Finding } from '../../checks/finding.ts'
import { deg } from '../../checks/runContext.ts'
import { formatAngle, type LengthUnit } from '../../document/quantity.ts'
import { lengthText, mm } from '../../document/sentence.ts'

/** One figure of a finding in the unit chosen, with its unit; never read like the other one; '' when there is none. */
export function figure(value: number | null, of: Finding, unit: LengthUnit): string {
  if (value === null) return ''
  const others = [of.measured, of.limit].filter(x => x !== null && x !== value) as number[]
  if (of.unit === 'mm') return lengthText(mm(value, ...others), unit, { decimalInstead: true })
  return of.unit === 'deg' ? deg(value, others[0]) : formatAngle(value)
}
