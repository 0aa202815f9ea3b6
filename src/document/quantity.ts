import Fraction from 'fraction.js'
import { evaluate, nearestDouble, type UnitWord } from './quantityExpression.ts'
import { LARGEST_LENGTH, LARGEST_LENGTH_WORDS } from './sizeLimits.ts'

/** How lengths are shown and what a bare number means. 'fraction' is inches written as fractions. */
export type LengthUnit = 'mm' | 'in' | 'fraction'

// Marked pure: what only writes lengths, as the workers do, then comes without what reads them.
/** The inch is 25.4 mm exactly (international inch). */
const INCH = /* @__PURE__ */ new Fraction(127, 5)

const LENGTHS: readonly UnitWord[] = [
  { words: ['mm'], worth: /* @__PURE__ */ new Fraction(1) },
  { words: ['cm'], worth: /* @__PURE__ */ new Fraction(10) },
  { words: ['m'], worth: /* @__PURE__ */ new Fraction(1000) },
  { words: ['in', '"', 'inch', 'inches'], worth: INCH },
  { words: ['ft', "'", 'foot', 'feet'], worth: /* @__PURE__ */ INCH.mul(12), joins: ['in'] },
]
const ANGLES: readonly UnitWord[] = [
  { words: ['deg', '°', 'º', 'degree', 'degrees'], worth: /* @__PURE__ */ new Fraction(1), joins: ['min'] },
  { words: ['min', "'"], worth: /* @__PURE__ */ new Fraction(1, 60), joins: ['sec'] },
  { words: ['sec', '"'], worth: /* @__PURE__ */ new Fraction(1, 3600) },
  { words: ['rad'], worth: /* @__PURE__ */ new Fraction(180 / Math.PI) },
]

export type ParsedLength =
  | { readonly ok: true; readonly mm: number }
  | { readonly ok: false; readonly reason: string }
export type ParsedAngle =
  | { readonly ok: true; readonly deg: number }
  | { readonly ok: false; readonly reason: string }

/** Units that a bare figure of a file may be in. */
export type BareUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft'
export const BARE_UNITS: readonly BareUnit[] = ['mm', 'cm', 'm', 'in', 'ft']

/**
 * A typed length in mm, any sign: `6 3/16in`, `6-3/16in`, `157.1625mm`, `25.4*3+10`, `1' 3"`, `(2+3)/4`. A bare
 * number is in `unit`. Exact: the double nearest to what was typed. `1,5` and other ambiguous texts are refused with the reason, and
 * so is what is longer than any skid.
 */
export function parseLength(text: string, unit: LengthUnit): ParsedLength {
  return parseLengthIn(text, unit === 'mm' ? 'mm' : 'in')
}

/**
 * Inches with a hyphen before the fraction, as drawings write them: `6-3/16in`, `4' 6-3/16"`. Without the word or mark for
 * inches, or in a longer sum, a dash is as ambiguous as any.
 */
const HYPHENED =
  /^\s*(-?)\s*((?:\d+(?:\.\d+)?\s*(?:'|ft|feet|foot))?)(?:(?<=['t])\s*-)?\s*(\d+)-(\d+\/\d+)\s*(in|inch|inches|")\s*$/i

/** As {@link parseLength}, with a bare number in any unit that files come in. */
export function parseLengthIn(text: string, unit: BareUnit): ParsedLength {
  const bare = LENGTHS.find(u => u.words[0] === unit)
  const hyphened = HYPHENED.exec(text.replace(/[″”“]|''/g, '"').replace(/[′’‘]/g, "'"))
  const [, sign = '', feet = '', whole, fraction, inches = ''] = hyphened ?? []
  const written = hyphened ? `${sign}${feet} ${whole} ${fraction}${inches}` : text
  const result = evaluate(written, LENGTHS, bare?.worth ?? new Fraction(1))
  if (!result.ok) return result
  const mm = nearestDouble(result.value)
  // NaN, too, is not within.
  if (!(Math.abs(mm) <= LARGEST_LENGTH))
    return { ok: false, reason: `the length is too large: wanted at most ${LARGEST_LENGTH_WORDS}` }
  return { ok: true, mm }
}

/** A typed angle in degrees, any sign or size (its range is the caller's): `22.5`, `22 1/2°`, `12° 30'`, `0.5rad`. */
export function parseAngle(text: string): ParsedAngle {
  const result = evaluate(text, ANGLES, new Fraction(1))
  if (!result.ok) return result
  const deg = nearestDouble(result.value)
  return Number.isFinite(deg) ? { ok: true, deg } : { ok: false, reason: 'the angle is too large to hold' }
}

/** A typed number without any unit: `0.5`, `1/3`, `(1+2)/4`. */
export function parsePlain(
  text: string,
): { readonly ok: true; readonly value: number } | { readonly ok: false; readonly reason: string } {
  const result = evaluate(text, [], new Fraction(1))
  if (!result.ok) return result
  const value = nearestDouble(result.value)
  return Number.isFinite(value)
    ? { ok: true, value }
    : { ok: false, reason: 'the number is too large to hold' }
}

export interface LengthFormat {
  /** Nearest one of this many parts of an inch, a power of two. Default 32. */
  readonly fractionOf?: number
  /** Most decimals. Default 2 for mm, 4 for inches. */
  readonly digits?: number
  /** Keep trailing zeros, for columns that line up. Default false. */
  readonly fixed?: boolean
  /** Append ` mm` or ` in`. Default false: the unit stands once in the header. */
  readonly withUnit?: boolean
}

/**
 * A length in mm as a person writes it in `unit`; rounded, so for reading only ({@link exactLength} for editing).
 * A value that is not finite comes back as an em dash.
 */
export function formatLength(mm: number, unit: LengthUnit, format: LengthFormat = {}): string {
  if (!Number.isFinite(mm)) return '—'
  const { fractionOf = 32, digits = unit === 'mm' ? 2 : 4, fixed = false, withUnit = false } = format
  const text =
    unit === 'fraction'
      ? writtenFraction(mm, fractionOf)
      : decimals(unit === 'mm' ? mm : mm / 25.4, digits, fixed)
  return withUnit ? `${text} ${unit === 'mm' ? 'mm' : 'in'}` : text
}

/** What writing `mm` to the nearest 1/`of` inch adds to it, mm: written less true, within ±25.4 / (2·of). */
export function fractionError(mm: number, of = 32): number {
  return (Math.round((mm / 25.4) * of) / of) * 25.4 - mm
}

/** A text that {@link parseLength} in the same unit reads back as exactly `mm`: what an edit field opens with. */
export function exactLength(mm: number, unit: LengthUnit): string {
  const value = new Fraction(plainDecimal(mm))
  if (unit === 'mm') return plainDecimal(mm)
  const inches = value.div(INCH)
  if (unit === 'fraction' && inches.d <= 64n && 64n % inches.d === 0n) return writtenFraction(mm, 64)
  for (let digits = 0; digits < 25; digits++) {
    const scaled = inches.mul(new Fraction(10n ** BigInt(digits))).round()
    const back = nearestDouble(scaled.div(new Fraction(10n ** BigInt(digits))).mul(INCH))
    if (back === mm) return fixedPoint(scaled, digits)
  }
  return `${plainDecimal(mm)}mm`
}

/** An angle in degrees as a person writes it: at most `digits` decimals (default 2), no unit. */
export function formatAngle(deg: number, digits = 2, fixed = false): string {
  return Number.isFinite(deg) ? decimals(deg, digits, fixed) : '—'
}

/** A text that {@link parseAngle} reads back as exactly `deg`. */
export const exactAngle = (deg: number): string => plainDecimal(deg)

/** Rounded half away from zero as the decimal reads (28.575 is 28.58), not as its double lies. */
export function decimals(value: number, digits: number, fixed: boolean): string {
  const shifted = Number(`${Math.abs(value)}e${digits}`)
  const size = Number.isFinite(shifted) ? Math.round(shifted) / 10 ** digits : Math.abs(value)
  const written = (value < 0 ? -size : size).toFixed(digits)
  const text = fixed || !written.includes('.') ? written : written.replace(/\.?0+$/, '')
  return /^-[0.]+$/.test(text) ? text.slice(1) : text
}

function writtenFraction(mm: number, of: number): string {
  const parts = Math.round((Math.abs(mm) / 25.4) * of)
  const whole = Math.floor(parts / of)
  let [over, under] = [parts % of, of]
  const sign = mm < 0 && parts > 0 ? '-' : ''
  if (over === 0) return `${sign}${whole}`
  for (; over % 2 === 0 && under % 2 === 0; under /= 2) over /= 2
  return `${sign}${whole === 0 ? '' : `${whole} `}${over}/${under}`
}

/** The shortest decimal that is this double, without an exponent. */
function plainDecimal(value: number): string {
  const text = String(value === 0 ? 0 : value)
  const m = /^(-?)(\d+)(?:\.(\d+))?e([-+]\d+)$/.exec(text)
  if (!m) return text
  const [, sign = '', whole = '', part = '', power = '0'] = m
  const places = part.length - Number(power)
  const digits = `${whole}${part}`
  if (places <= 0) return `${sign}${digits}${'0'.repeat(-places)}`
  const padded = digits.padStart(places + 1, '0')
  return `${sign}${padded.slice(0, -places)}.${padded.slice(-places)}`
}

function fixedPoint(scaled: Fraction, digits: number): string {
  const text = (scaled.n as bigint).toString().padStart(digits + 1, '0')
  const sign = scaled.s < 0n ? '-' : ''
  return digits === 0 ? `${sign}${text}` : `${sign}${text.slice(0, -digits)}.${text.slice(-digits)}`
}
