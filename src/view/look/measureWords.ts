import { formatAngle, formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { Measured } from '../../skid/measureBetween.ts'

export interface Row {
  readonly name: string
  readonly value: string
}

/** Below this the bound is the arithmetic's own. mm */
const ROUNDING_ONLY = 1e-6

/** The distance as the dimension in the picture has it: "34.2 mm", "overlap 0.8 mm". */
export function gapText({ gap, overlapping }: Measured, unit: LengthUnit): string {
  if (overlapping) return 'overlapping'
  const text = formatLength(Math.abs(gap), unit, { withUnit: true })
  return gap < -ROUNDING_ONLY ? `overlap ${text}` : text
}

/** How far the figure may be off, in mm whatever unit is shown: thousandths say little in fractions. */
export const boundText = ({ errorBound, overlapping }: Measured): string =>
  overlapping
    ? 'depth between models is not calculated'
    : errorBound <= ROUNDING_ONLY
      ? 'exact to rounding'
      : `± ${Math.ceil(errorBound * 1e4) / 1e4} mm`

/** What else there is to say of the two, row by row. */
export function rowsOf(m: Measured, unit: LengthUnit): Row[] {
  const long = (mm: number) => formatLength(mm, unit, { withUnit: true })
  // The one place where two models overlap is no way from one to the other.
  const rows: Row[] = m.overlapping ? [] : m.delta.map((d, k) => ({ name: `d${'xyz'[k]}`, value: long(d) }))
  if (m.toLevel !== null) rows.push({ name: 'from horizontal', value: `${formatAngle(m.toLevel)}°` })
  if (m.angle !== null) rows.push({ name: 'angle between', value: `${formatAngle(m.angle)}°` })
  if (m.perpendicular) {
    const { distance, feet, within } = m.perpendicular
    const where = feet === null ? 'parallel' : within ? '' : 'beyond a straight’s end'
    rows.push({ name: 'square to both lines', value: `${long(distance)}${where && `, ${where}`}` })
  }
  return rows
}

/** As text to paste: what, how much, how sure, and the rest. */
export const asText = (m: Measured, unit: LengthUnit): string =>
  [
    `${m.a}\t${m.b}\t${gapText(m, unit)}\t${boundText(m)}`,
    ...rowsOf(m, unit).map(r => `${r.name}\t${r.value}`),
  ].join('\n')
