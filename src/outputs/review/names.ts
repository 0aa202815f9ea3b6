import { placeWord } from '../../checks/placeWord.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import { formatLength } from '../../document/quantity.ts'
import type { Sentence } from '../../document/sentence.ts'
import type { Finding, Where } from '../../findings/finding.ts'
import { findingFigure } from '../../findings/findingFigure.ts'
import type { ClearancePair, Place } from '../../skid/clearance.ts'
import { sentenceOnPaper } from '../sentenceOnPaper.ts'

/** "AE-101, bend 2" or "AE-101, straight 3, and AE-104, bend 1". */
export function whereWords(where: Where, name: (id: string) => string, pair: ClearancePair | null): string {
  if (pair) {
    const on = (place: Place | null) => (place ? `, ${place.kind} ${place.index + 1}` : '')
    return pair.kind === 'self'
      ? `${pair.a}${on(pair.placeA)}, and its own${on(pair.placeB).slice(1) || ' tube'}`
      : `${pair.a}${on(pair.placeA)}, and ${pair.b}${on(pair.placeB)}`
  }
  const parts = [where.run === null ? '' : name(where.run), placeWord(where)]
  if (where.other !== undefined)
    parts.push(where.run === null ? name(where.other) : `and ${name(where.other)}`)
  return parts.filter(Boolean).join(', ').replace(', and', ' and') || 'the whole skid'
}

/** How figures are written. */
export interface Figures {
  readonly unit: LengthUnit
  readonly length: (mm: number) => string
  /** A figure of a finding with its unit, never read like the other one; "-" when it has none. */
  readonly of: (value: number | null, finding: Pick<Finding, 'unit' | 'measured' | 'limit'>) => string
  readonly said: (sentence: Sentence) => string
}

/** Fractions to half of a sheet's step: a reviewer looks at gaps. */
const FORMAT = { fractionOf: 64, inchDigits: 3 }

/** Millimetres to 0.01, inches to 0.001, fractions to the nearest 1/64; angles to 0.01°. */
export function figuresIn(unit: LengthUnit): Figures {
  const length = (mm: number) =>
    unit === 'mm'
      ? formatLength(mm, unit, { digits: 2, fixed: true, withUnit: true })
      : formatLength(mm, unit, {
          digits: FORMAT.inchDigits,
          fractionOf: FORMAT.fractionOf,
          fixed: true,
          withUnit: true,
        })
  return {
    unit,
    length,
    of: (value, finding) =>
      value === null ? '-' : findingFigure(value, finding, unit, { ...FORMAT, fixed: true }),
    said: sentence => sentenceOnPaper(sentence, unit, FORMAT),
  }
}

/** By how much a finding misses its limit; "-" when it has no figures. */
export const missOf = (finding: Finding, figures: Figures): string =>
  finding.measured === null || finding.limit === null
    ? '-'
    : figures.of(Math.abs(finding.limit - finding.measured), finding)

/** Sentences with the names of the runs that each is said of, equal ones together: "AE-201, AE-202: no bender". */
export function saidOf(
  findings: readonly Finding[],
  name: (id: string) => string,
  write: (sentence: Sentence) => string,
): string[] {
  const said = new Map<string, string[]>()
  for (const { sentence, where } of findings) {
    const message = write(sentence)
    const of = where.run ?? where.other
    const names = said.get(message) ?? []
    said.set(message, names)
    if (of !== undefined && !message.startsWith(name(of))) names.push(name(of))
  }
  return [...said].map(([message, names]) => (names.length > 0 ? `${names.join(', ')}: ${message}` : message))
}
