import {
  exactAngle,
  exactLength,
  formatAngle,
  formatLength,
  type LengthUnit,
  parseAngle,
  parseLength,
  parsePlain,
} from '../../document/quantity.ts'
import { lengthText } from '../../document/sentence.ts'

export type Parsed =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly reason: string }

/** How a number of one kind is read, shown, opened for editing and stepped. Stored values: mm or degrees. */
export interface QuantityKind {
  parse(text: string): Parsed
  /** Rounded, for reading. */
  show(value: number): string
  /** Reads back as exactly the value. */
  exact(value: number): string
  /** What one press of an arrow key adds, in stored units. */
  readonly step: number
  /** `mm`, `in` or `°`: stands once in a header or beside a lone field. */
  readonly unitWord: string
}

export const lengthUnitWord = (unit: LengthUnit): string => (unit === 'mm' ? 'mm' : 'in')

/** One arrow press: 1 mm, 1/16 in for fractions, 0.1 in for decimal inches. */
export const lengthStep = (unit: LengthUnit): number => (unit === 'mm' ? 1 : unit === 'in' ? 2.54 : 25.4 / 16)

/** A length, and what of one is missing: that never reads like nothing. */
export interface LengthKind extends QuantityKind {
  lack(mm: number): string
}

export const lengthKind = (unit: LengthUnit): LengthKind => ({
  parse(text) {
    const read = parseLength(text, unit)
    return read.ok ? { ok: true, value: read.mm } : read
  },
  show: mm => formatLength(mm, unit),
  exact: mm => exactLength(mm, unit),
  lack: mm => lengthText({ mm, bare: true }, unit),
  step: lengthStep(unit),
  unitWord: lengthUnitWord(unit),
})

export const angleKind: QuantityKind = {
  parse(text) {
    const read = parseAngle(text)
    return read.ok ? { ok: true, value: read.deg } : read
  },
  show: deg => formatAngle(deg),
  exact: exactAngle,
  step: 1,
  unitWord: '°',
}

/** Whole numbers, 1 and up: pieces to make. */
export const countKind: QuantityKind = {
  parse(text) {
    const value = Number(text.trim())
    return text.trim() !== '' && Number.isInteger(value) && value >= 1
      ? { ok: true, value }
      : { ok: false, reason: `"${text}" is not a whole number from 1 up` }
  },
  show: String,
  exact: String,
  step: 1,
  unitWord: '',
}

/** Bare figures without a unit: the parts of a direction. */
export const plainKind: QuantityKind = {
  parse: parsePlain,
  show: value => formatLength(value, 'mm', { digits: 5 }),
  exact: value => exactLength(value, 'mm'),
  step: 0.1,
  unitWord: '',
}
