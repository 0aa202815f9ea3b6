import { formatLength, type LengthUnit } from './quantity.ts'

/** An exact length in a sentence, mm, and how it wants to be written. */
export interface Length {
  readonly mm: number
  /** What it must not read like, unless it is as long: its limit. Zero goes without saying. */
  readonly beside?: readonly number[]
  /** Most decimals in mm, default 2; inches get two more and so say no less. 'all': as it is, limits of nothing. */
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
  const parts = words.flatMap((text, i) => [text, between[i] ?? '']).flat() as (string | Length)[]
  return parts.filter(part => part !== '') as unknown as Sentence
}

/** Sentences one after the other with `between` between them. */
export const joined = (sentences: readonly Sentence[], between: string): Sentence =>
  sentences.reduce((all, next, i) => (i === 0 ? next : say`${all}${between}${next}`), say``)

/** How finely inches are written. */
export interface InchFormat {
  /** Fractions to the nearest one of this many parts of an inch. Default 32. */
  readonly fractionOf?: number
  /** Most decimals of inches, where none more is needed to tell lengths apart. Default 4. */
  readonly inchDigits?: number
}

/** The sentence as a person reads lengths. */
export const inUnit = (sentence: Sentence, unit: LengthUnit, format?: InchFormat): string =>
  sentence.map(part => (typeof part === 'string' ? part : lengthText(part, unit, format))).join('')

/** Both that a finding says: the sentence, and the same in mm for data and the command line. */
export const told = (sentence: Sentence): { sentence: Sentence; message: string } => ({
  sentence,
  message: inUnit(sentence, 'mm'),
})

/**
 * One length with its unit, rounded. A fraction that reads like what it stands beside does not stand there alone: the
 * decimal that tells them apart follows in parentheses.
 */
export function lengthText(
  length: Length,
  unit: LengthUnit,
  { fractionOf = 32, inchDigits = 4 }: InchFormat = {},
): string {
  const { mm, beside = [], digits = 2, fixed = false, bare = false } = length
  const name = bare ? '' : unit === 'mm' ? ' mm' : ' in'
  const others = [0, ...beside].filter(x => Math.abs(x - mm) > SAME_MM)
  const misread = (write: (mm: number) => string) => others.some(x => write(x) === write(mm))
  if (digits === 'all') {
    let count = 6
    const write = (x: number) => allDigits(x, unit, count)
    while (count < 16 && misread(write)) count++
    return write(mm) + name
  }
  const decimal = (): string => {
    const of = unit === 'mm' ? 'mm' : 'in'
    let most = of === 'mm' ? digits : Math.min(digits + 2, inchDigits)
    const write = (x: number) => formatLength(x, of, { digits: most, fixed })
    while (most < 9 && misread(write)) most++
    return write(mm) + name
  }
  if (unit !== 'fraction') return decimal()
  const fraction = (x: number) => formatLength(x, unit, { fractionOf })
  const text = fraction(mm)
  if (!misread(fraction)) return text + name
  return text === '0' ? decimal() : `${text}${name} (${decimal()})`
}

/** For figures that may be of any size: in inches `count` digits, as a fraction only where it is one. */
function allDigits(mm: number, unit: LengthUnit, count: number): string {
  if (unit === 'mm' || !Number.isFinite(mm)) return String(mm)
  const parts = (mm / 25.4) * 64
  return unit === 'fraction' && Math.abs(parts - Math.round(parts)) < 1e-9
    ? formatLength(mm, unit, { fractionOf: 64 })
    : String(Number((mm / 25.4).toPrecision(count)))
}
