import { BARE_UNITS, type LengthUnit, parseLength } from '../document/quantity.ts'
import { BadInput } from './badInput.ts'
import type { Given } from './command.ts'

/** The option's meaning, undefined when not given. @throws BadInput listing what it may be. */
export function oneOf<T>(values: Given, name: string, meanings: Readonly<Record<string, T>>): T | undefined {
  const word = values[name]
  if (word === undefined) return undefined
  if (typeof word === 'string' && Object.hasOwn(meanings, word)) return meanings[word]
  throw new BadInput(`--${name}: found "${word}"; wanted one of ${Object.keys(meanings).join(', ')}`)
}

/** What lengths are written in on paper, by `--unit`. */
export const PAPER_UNITS: Readonly<Record<string, LengthUnit>> = { mm: 'mm', in: 'in', fraction: 'fraction' }

/** The unit of paper: mm when not given; of a table's metric units mm, of its inches and feet decimal inches. */
export function paperUnit(values: Given): LengthUnit {
  const bare = BARE_UNITS.map((u): [string, LengthUnit] => [u, u === 'in' || u === 'ft' ? 'in' : 'mm'])
  return oneOf(values, 'unit', { ...Object.fromEntries(bare), ...PAPER_UNITS }) ?? 'mm'
}

/** The option's length in mm, ≥ 0; undefined when it is not given. */
export function lengthOrNothing(
  values: Given,
  name: 'kerf' | 'trim' | 'least-remnant' | 'margin',
): number | undefined {
  const text = values[name]
  if (typeof text !== 'string') return undefined
  const length = parseLength(text, 'mm')
  if (!length.ok) throw new BadInput(`--${name}: found "${text}"; wanted a length in mm (${length.reason})`)
  if (!(length.mm >= 0)) throw new BadInput(`--${name}: found ${length.mm} mm; wanted 0 or more`)
  return length.mm
}

/** The option's length in mm, > 0. */
export function lengthOption(
  values: Given,
  name: 'od' | 'wall' | 'clr' | 'within' | 'bar-x' | 'bar-y',
): number {
  const text = values[name]
  if (typeof text !== 'string')
    throw new BadInput(`--${name}: found nothing; wanted a length in mm, as in --${name} 12`)
  const length = parseLength(text, 'mm')
  if (!length.ok) throw new BadInput(`--${name}: found "${text}"; wanted a length in mm (${length.reason})`)
  if (!(length.mm > 0)) throw new BadInput(`--${name}: found ${length.mm} mm; wanted more than 0`)
  return length.mm
}

/** `--lead`: the end that leads through all bends, or the best order; null when it is not given. */
export function leadOption({ lead }: Given): 'A' | 'B' | 'best' | null {
  if (lead === undefined) return null
  if (lead === 'A' || lead === 'B' || lead === 'best') return lead
  throw new BadInput(`--lead: found "${lead}"; wanted A, B or best`)
}

export function paperOption(values: Given): 'A4' | 'A3' | 'Letter' {
  const paper = values['paper'] ?? 'A4'
  if (paper === 'A4' || paper === 'A3' || paper === 'Letter') return paper
  throw new BadInput(`--paper: found "${paper}"; wanted A4, A3 or Letter`)
}

export function outOption({ out }: Given): string {
  if (typeof out === 'string' && out !== '') return out
  throw new BadInput('--out: found nothing; wanted the file to write')
}
