import { firstStop } from '../../bender/springback.ts'
import { formatAngle, formatLength, type LengthUnit } from '../../document/quantity.ts'

/** A length as it is read off across the bench: a tenth of a millimetre, a hundredth of an inch or 1/32 in. */
export const benchLength = (mm: number, unit: LengthUnit): string =>
  formatLength(mm, unit, { digits: unit === 'mm' ? 1 : 3, fixed: true, fractionOf: 32 })

export const unitWord = (unit: LengthUnit): string => (unit === 'mm' ? 'mm' : 'in')

/** An angle to a tenth of a degree, as a dial shows it; no sign. */
export const benchAngle = (deg: number): string => formatAngle(Math.abs(deg), 1, true)

/** An angle difference with its sign, tenths of a degree. */
export const signedAngle = (deg: number): string => {
  const text = formatAngle(Math.abs(deg), 1, true)
  return text === '0.0' ? text : `${deg < 0 ? '−' : '+'}${text}`
}

/** A length difference with its sign, as {@link benchLength}. */
export const signedLength = (mm: number, unit: LengthUnit): string =>
  `${mm < 0 ? '−' : '+'}${benchLength(Math.abs(mm), unit)}`

/** The dial reading as it stands on screen, degrees: a fabricator sets what is shown, so trials are kept with it. */
export const shownDial = (deg: number): number => Math.round(deg * 10) / 10

/** Where a first, short stop is shown for a wanted angle, degrees. */
export const shownStop = (wanted: number): number => shownDial(firstStop(wanted))
