import { angleText } from '../document/angleRange.ts'
import { formatAngle, type LengthUnit } from '../document/quantity.ts'
import { type InchFormat, lengthText } from '../document/sentence.ts'
import type { Finding } from './finding.ts'

/**
 * One figure of a finding in the unit shown, with its unit: what is measured and its limit never read alike when they
 * are not, and a figure that was accepted reads like neither. '' when there is none.
 *
 * @param format.fixed keeps trailing zeros of lengths.
 */
export function findingFigure(
  value: number | null,
  of: Pick<Finding, 'unit' | 'measured' | 'limit'>,
  unit: LengthUnit,
  { fixed = false, ...format }: InchFormat & { readonly fixed?: boolean } = {},
): string {
  if (value === null) return ''
  const beside = [of.measured, of.limit].filter(x => x !== null && x !== value) as number[]
  if (of.unit === 'mm')
    return lengthText({ mm: value, beside, fixed }, unit, { ...format, decimalInstead: true })
  return of.unit === 'deg' ? angleText(value, beside) : formatAngle(value)
}
