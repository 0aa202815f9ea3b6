import { numberIn } from './textLines.ts'

const TAB = 9
const SPACE = 32
const PLUS = 43
const MINUS = 45
const POINT = 46
const SLASH = 47
const ZERO = 48
const LOWER_E = 101
/** Digits of a whole number that a double holds for certain, and powers of ten that it holds exactly. */
const MOST_DIGITS = 15
const MOST_POWER = 22
const POWERS = Array.from({ length: MOST_POWER + 1 }, (_, i) => 10 ** i)
/** Whole numbers of so many digits are places of vertices; longer ones are looked at as text. */
const MOST_PLACE_DIGITS = 9

const isSpace = (byte: number) => byte === SPACE || (byte >= TAB && byte <= 13)
const digitOf = (byte: number) => (byte >= ZERO && byte < ZERO + 10 ? byte - ZERO : -1)

/** Words of one line after the other, read from the bytes of a text without making a text of each. */
export class ByteWords {
  /** Where the next word is looked for, and where the line ends. */
  at = 0
  end = 0
  private readonly decoder = new TextDecoder('utf-8')
  constructor(private readonly bytes: Uint8Array) {}

  /** Goes to the next word of the line. @returns false when there is none. */
  toWord(): boolean {
    while (this.at < this.end && isSpace(this.bytes[this.at]!)) this.at++
    return this.at < this.end
  }

  /**
   * The finite number that the next word is, the nearest double to what is written; NaN where it is none, or no word is
   * left.
   */
  number(): number {
    if (!this.toWord()) return Number.NaN
    const { bytes, end } = this
    const from = this.at
    let at = from
    const sign = bytes[at] === MINUS ? -1 : 1
    if (bytes[at] === MINUS || bytes[at] === PLUS) at++
    let whole = 0
    let digits = 0
    let behind = 0
    let seen = false
    let point = false
    for (; at < end; at++) {
      const byte = bytes[at]!
      const digit = digitOf(byte)
      if (digit >= 0) {
        seen = true
        if (digits > 0 || digit > 0) digits++
        whole = 10 * whole + digit
        if (point) behind++
      } else if (byte === POINT && !point) point = true
      else break
    }
    let power = -behind
    if (seen && at < end && (bytes[at]! | 32) === LOWER_E) {
      at++
      const down = bytes[at] === MINUS
      if (bytes[at] === MINUS || bytes[at] === PLUS) at++
      let exponent = 0
      let any = false
      for (; at < end; at++) {
        const digit = digitOf(bytes[at]!)
        if (digit < 0) break
        any = true
        exponent = Math.min(9999, 10 * exponent + digit)
      }
      if (!any) seen = false
      power += down ? -exponent : exponent
    }
    // A whole number and a power of ten that are both exact give the nearest double in one step.
    if (
      seen &&
      digits <= MOST_DIGITS &&
      Math.abs(power) <= MOST_POWER &&
      (at >= end || isSpace(bytes[at]!))
    ) {
      this.at = at
      return sign * (power < 0 ? whole / POWERS[-power]! : whole * POWERS[power]!)
    }
    return numberIn(this.word())
  }

  /** The whole number that the next word begins with, before a slash or its end; NaN where it does not. */
  place(): number {
    if (!this.toWord()) return Number.NaN
    const { bytes, end } = this
    let at = this.at
    const sign = bytes[at] === MINUS ? -1 : 1
    if (sign < 0) at++
    const from = at
    let value = 0
    for (; at < end; at++) {
      const digit = digitOf(bytes[at]!)
      if (digit < 0) break
      value = 10 * value + digit
    }
    const isWord = at >= end || isSpace(bytes[at]!) || bytes[at] === SLASH
    if (at === from || at - from > MOST_PLACE_DIGITS || !isWord) return Number.NaN
    while (at < end && !isSpace(bytes[at]!)) at++
    this.at = at
    return sign * value
  }

  private word(): string {
    const from = this.at
    while (this.at < this.end && !isSpace(this.bytes[this.at]!)) this.at++
    return this.textOf(from, this.at)
  }

  textOf(from: number, to: number): string {
    return this.decoder.decode(this.bytes.subarray(from, to))
  }
}
