import { decimals, formatLength, type LengthUnit } from './quantity.ts'
import { visibleText } from './visibleText.ts'

/** An exact length in a sentence, mm, and how it wants to be written. */
export interface Length {
  readonly mm: number
  /** What it must not read like, unless it is as long: its limit. Zero goes without saying. */
  readonly beside?: readonly number[]
  /** Most decimals in mm, default 2; inches get two more and so say no less. 'all': every digit it has. */
  readonly digits?: number | 'all'
  /** Keep trailing zeros. */
  readonly fixed?: boolean
  /** No unit behind it: a coordinate of a point. */
  readonly bare?: boolean
}

declare const said: unique symbol
/** Words and exact lengths, as they follow each other: only {@link say} makes one. A worker may hand it over. */
export type Sentence = readonly (string | Length)[] & { readonly [said]: true }

/** Lengths this near are one: the rounding of a sum of coordinates. mm */
const SAME_MM = 1e-6
/** Enough for lengths of 100 m that differ by just more than that. */
const MOST_DIGITS = 12

/** A length in a sentence; it gets more digits when rounding would make it read like one of `beside`. */
export const mm = (mm: number, ...beside: readonly number[]): Length => ({ mm, beside })

/** A length with every digit it has: one of bad input, of any size. */
export const everyDigit = (mm: number, bare = false): Length => ({ mm, digits: 'all', bare })

/**
 * A sentence with its lengths left exact: say`${name} is ${mm(measured, limit)}`. A bare number is not taken, for it
 * could be a length: what is counted is written as text.
 */
export function say(
  words: TemplateStringsArray,
  ...between: readonly (string | Length | Sentence)[]
): Sentence {
  const parts = words.flatMap((text, i) => [text, shown(between[i] ?? '')]).flat() as (string | Length)[]
  return parts.filter(part => part !== '') as unknown as Sentence
}

/** Names out of a file neither hide nor reorder what stands round them. */
const shown = <T>(part: T): T | string => (typeof part === 'string' ? visibleText(part) : part)

/** Sentences one after the other with `between` between them. */
export const joined = (sentences: readonly Sentence[], between: string): Sentence =>
  sentences.reduce((all, next, i) => (i === 0 ? next : say`${all}${between}${next}`), say``)

/** How finely inches are written. */
export interface InchFormat {
  /** Fractions to the nearest one of this many parts of an inch. Default 32. */
  readonly fractionOf?: number
  /** Most decimals of inches, where none more is needed to tell lengths apart. Default 4. */
  readonly inchDigits?: number
  /** The decimal that tells a fraction from what it reads like stands in its place, not behind it. Default false. */
  readonly decimalInstead?: boolean
}

/** The sentence as a person reads lengths. */
export const inUnit = (sentence: Sentence, unit: LengthUnit, format?: InchFormat): string =>
  written(sentence, length => lengthText(length, unit, format))

/** The sentence in mm. By itself, so that the workers, which need no other unit, go without the rest of this file. */
export const inMm = (sentence: Sentence): string => written(sentence, mmText)

const written = (sentence: Sentence, write: (length: Length) => string): string =>
  sentence.map(part => (typeof part === 'string' ? part : write(part))).join('')

/** Both that a finding says: the sentence, and the same in mm for data and the command line. */
export const told = (sentence: Sentence): { sentence: Sentence; message: string } => ({
  sentence,
  message: inMm(sentence),
})

/**
 * One length with its unit, rounded. A fraction that reads like what it stands beside does not stand there alone: the
 * decimal that tells them apart follows in parentheses.
 */
export function lengthText(
  length: Length,
  unit: LengthUnit,
  { fractionOf = 32, inchDigits = 4, decimalInstead = false }: InchFormat = {},
): string {
  if (unit === 'mm') return mmText(length)
  const { mm, digits = 2, fixed = false, bare } = length
  const name = bare ? '' : ' in'
  if (digits === 'all') return everyInch(length, unit) + name
  const decimal = () =>
    apart(length, Math.min(digits + 2, inchDigits), (x, most) => decimals(x / 25.4, most, fixed)) + name
  if (unit === 'in') return decimal()
  const fraction = (x: number) => formatLength(x, unit, { fractionOf })
  const text = fraction(mm)
  if (!isMisread(length, fraction)) return text + name
  return text === '0' || decimalInstead ? decimal() : `${text}${name} (${decimal()})`
}

function mmText(length: Length): string {
  const { mm, digits = 2, fixed = false, bare } = length
  const text = digits === 'all' ? String(mm) : apart(length, digits, (x, most) => decimals(x, most, fixed))
  return bare ? text : `${text} mm`
}

/** With as many digits as tell it from what it stands beside, and from nothing; `digits` at least. */
function apart(length: Length, digits: number, write: (mm: number, digits: number) => string): string {
  let most = digits
  while (most < MOST_DIGITS && isMisread(length, x => write(x, most))) most++
  return write(length.mm, most)
}

const isMisread = ({ mm, beside = [] }: Length, write: (mm: number) => string): boolean =>
  [0, ...beside].some(x => Math.abs(x - mm) > SAME_MM && write(x) === write(mm))

/** Of any size: six digits that count, as a fraction only where it is one. */
function everyInch(length: Length, unit: LengthUnit): string {
  const { mm } = length
  const parts = (mm / 25.4) * 64
  if (unit === 'fraction' && Math.abs(parts - Math.round(parts)) < 1e-9)
    return formatLength(mm, unit, { fractionOf: 64 })
  return apart(length, 6, (x, count) => String(Number((x / 25.4).toPrecision(count))))
}
