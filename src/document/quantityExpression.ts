import Fraction from 'fraction.js'

/** One spelling of a unit and its exact worth in the stored unit (mm or degrees). */
export interface UnitWord {
  readonly words: readonly string[]
  readonly worth: Fraction
  /** Units that may follow without a plus, as inches follow feet: a word of theirs. */
  readonly joins?: readonly string[]
}

export type Evaluated =
  | { readonly ok: true; readonly value: Fraction }
  | { readonly ok: false; readonly reason: string }

/** Longer than anyone types; keeps exact arithmetic on junk short. */
const LONGEST_TEXT = 200

type Token =
  | { readonly kind: 'number'; readonly text: string }
  | { readonly kind: 'unit'; readonly unit: UnitWord; readonly text: string }
  | { readonly kind: 'sign'; readonly text: string }

/** A value in hand: a plain number, or a quantity that has had its unit. */
interface Value {
  readonly value: Fraction
  readonly hasUnit: boolean
}

class Refusal extends Error {}
const refuse = (reason: string): never => {
  throw new Refusal(reason)
}

const VULGAR: Record<string, string> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
}

/** One spelling for minus, times, over and the inch and foot marks. */
function plainSigns(text: string): string {
  return text
    .replace(/[½¼¾⅛⅜⅝⅞]/g, c => ` ${VULGAR[c] ?? c}`)
    .replace(/[−–﹣－]/g, '-')
    .replace(/[×·∙]/g, '*')
    .replace(/[÷⁄∕]/g, '/')
    .replace(/[′’‘]/g, "'")
    .replace(/[″”“]/g, '"')
    .replace(/''/g, '"')
    .trim()
}

function tokens(text: string, units: readonly UnitWord[]): Token[] {
  const found: Token[] = []
  const pattern = /\s*(?:(\d+\.?\d*|\.\d+)|([a-zµ]+|[°º'"])|([-+*/()])|(\S))/giy
  let end = 0
  for (let m = pattern.exec(text); m; m = pattern.exec(text)) {
    end = pattern.lastIndex
    const [, number, word, sign, other] = m
    if (number !== undefined) {
      if (text[end] === '.') refuse(`"${number}." is followed by another point: wanted one decimal point`)
      found.push({ kind: 'number', text: number })
    } else if (word !== undefined) {
      const unit = units.find(u => u.words.includes(word.toLowerCase()))
      const known = units.map(u => u.words[0]).join(', ')
      found.push({
        kind: 'unit',
        text: word,
        unit:
          unit ??
          refuse(
            known === '' ? `"${word}" is no number` : `"${word}" is not a unit here: wanted one of ${known}`,
          ),
      })
    } else if (sign !== undefined) found.push({ kind: 'sign', text: sign })
    else
      refuse(
        `"${other}" is not understood: wanted numbers, ${units.length > 0 ? 'units, ' : ''}+ − * / and brackets`,
      )
  }
  return found
}

/**
 * Evaluates a sum of numbers and units exactly, as rationals.
 *
 * @param bareWorth what a number without a unit is worth in the stored unit.
 * @returns the value in the stored unit, or why the text was refused. Never throws, never guesses: a comma, a dash
 *   that may join or subtract (`6-3/16in`), and two numbers side by side are refused with the ways to write them.
 */
export function evaluate(text: string, units: readonly UnitWord[], bareWorth: Fraction): Evaluated {
  try {
    if (text.length > LONGEST_TEXT) refuse(`found ${text.length} characters, wanted at most ${LONGEST_TEXT}`)
    const plain = plainSigns(text)
    if (plain === '') refuse('found nothing, wanted a number')
    const comma = /[\d.]*,[\d.]*/.exec(plain)
    if (comma)
      refuse(
        `"${comma[0]}" is ambiguous: the comma may be a decimal point or a thousands separator. Write a point, or no separator`,
      )
    const dash = /\d-\d+\/\d+|'-\s*\d/.exec(plain)
    if (dash)
      refuse(
        `"${dash[0]}" is ambiguous: the dash may join or subtract. Write a space to join, or spaces around the minus`,
      )
    const all = tokens(plain, units)
    return { ok: true, value: new Reading(all, bareWorth).whole() }
  } catch (error) {
    if (error instanceof Refusal) return { ok: false, reason: error.message }
    throw error
  }
}

/** Recursive descent over the tokens: sum → product → signed → quantity. */
class Reading {
  private at = 0
  private readonly all: readonly Token[]
  private readonly bareWorth: Fraction
  constructor(all: readonly Token[], bareWorth: Fraction) {
    this.all = all
    this.bareWorth = bareWorth
  }

  whole(): Fraction {
    const v = this.sum()
    const left = this.all[this.at]
    if (left?.kind === 'number')
      refuse(
        `"${left.text}" stands beside another number: wanted a sign between them, or a fraction as in 6 3/16`,
      )
    if (left) refuse(`"${left.text}" is left over: wanted the end of the text`)
    return this.withUnit(v)
  }

  private withUnit(v: Value): Fraction {
    return v.hasUnit ? v.value : v.value.mul(this.bareWorth)
  }

  private takeSign(...signs: string[]): string | null {
    const t = this.all[this.at]
    if (t?.kind !== 'sign' || !signs.includes(t.text)) return null
    this.at++
    return t.text
  }

  private sum(): Value {
    let v = this.product()
    for (let s = this.takeSign('+', '-'); s; s = this.takeSign('+', '-')) {
      const w = this.product()
      const hasUnit = v.hasUnit || w.hasUnit
      const [a, b] = hasUnit ? [this.withUnit(v), this.withUnit(w)] : [v.value, w.value]
      v = { value: s === '+' ? a.add(b) : a.sub(b), hasUnit }
    }
    return v
  }

  private product(): Value {
    let v = this.signed()
    for (let s = this.takeSign('*', '/'); s; s = this.takeSign('*', '/')) {
      const w = this.signed()
      if (s === '*') {
        if (v.hasUnit && w.hasUnit)
          refuse('two quantities with units are multiplied: wanted one plain number')
        v = { value: v.value.mul(w.value), hasUnit: v.hasUnit || w.hasUnit }
      } else {
        if (w.hasUnit) refuse('a division by a quantity with a unit: wanted a plain number under the line')
        if (w.value.equals(0)) refuse('a division by zero')
        v = { value: v.value.div(w.value), hasUnit: v.hasUnit }
      }
    }
    return v
  }

  private signed(): Value {
    const s = this.takeSign('+', '-')
    if (s === null) return this.quantity()
    const v = this.signed()
    return s === '-' ? { ...v, value: v.value.neg() } : v
  }

  private quantity(): Value {
    if (this.takeSign('(')) {
      const v = this.sum()
      if (!this.takeSign(')')) refuse('a bracket is open: wanted ")"')
      return this.unitAfter(v)
    }
    const t = this.all[this.at]
    if (t?.kind !== 'number') {
      if (!t) return refuse('the text ends early: wanted a number')
      return refuse(`found "${t.text}", wanted a number`)
    }
    return this.unitAfter({ value: this.number(), hasUnit: false })
  }

  private wholeNumberAt(i: number): boolean {
    const t = this.all[i]
    return t?.kind === 'number' && !t.text.includes('.')
  }

  /** `6`, `6.5`, `3/16`, `6 3/16`: a fraction is one number, so that its unit covers all of it. */
  private number(): Fraction {
    const fraction = (i: number): Fraction | null => {
      const over = this.all[i + 1]
      if (!this.wholeNumberAt(i) || over?.kind !== 'sign' || over.text !== '/' || !this.wholeNumberAt(i + 2))
        return null
      const under = BigInt(this.all[i + 2]!.text)
      return under === 0n ? refuse('a division by zero') : new Fraction(BigInt(this.all[i]!.text), under)
    }
    const plain = fraction(this.at)
    if (plain) {
      this.at += 3
      return plain
    }
    const whole = decimal(this.all[this.at]!.text)
    const part = this.wholeNumberAt(this.at) ? fraction(this.at + 1) : null
    this.at += 1
    if (!part) return whole
    this.at += 3
    if (part.compare(1) >= 0) refuse(`"${part.toFraction()}" after a whole number: wanted a fraction below 1`)
    return whole.add(part)
  }

  private unitAfter(v: Value): Value {
    const t = this.all[this.at]
    if (t?.kind !== 'unit') return v
    if (v.hasUnit) refuse(`"${t.text}" follows a quantity that has a unit: wanted one unit`)
    this.at++
    const first = { value: v.value.mul(t.unit.worth), hasUnit: true }
    if (!t.unit.joins || this.all[this.at]?.kind !== 'number') return first
    const small = this.number()
    const unit = this.all[this.at]
    if (unit?.kind !== 'unit' || !t.unit.joins.includes(unit.unit.words[0]!))
      return refuse(
        `a number follows "${t.text}" without its unit: wanted ${t.unit.joins.join(' or ')} after it`,
      )
    const rest = this.unitAfter({ value: small, hasUnit: false })
    return { value: first.value.add(rest.value), hasUnit: true }
  }
}

function decimal(text: string): Fraction {
  const [whole = '', part = ''] = text.split('.')
  return new Fraction(BigInt(`${whole}${part}` || '0'), 10n ** BigInt(part.length))
}

/**
 * The double nearest to a fraction, ties to even. Dividing two rounded integers would round twice once either has
 * more than 53 bits.
 */
export function nearestDouble(f: Fraction): number {
  const n = f.n as bigint
  const d = f.d as bigint
  if (n === 0n) return 0
  const shift = BigInt(Math.max(0, 66 - (n.toString(2).length - d.toString(2).length)))
  const top = n << shift
  const quotient = top / d
  const sticky = top % d === 0n ? 0n : 1n
  return (Number(f.s) * Number((quotient << 1n) | sticky)) / 2 / 2 ** Number(shift)
}
