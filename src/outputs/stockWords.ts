import { type LengthUnit, parseLength } from '../document/quantity.ts'
import type { Remnant, StockLength } from './cutList.ts'
import { OutputError } from './outputError.ts'

/** A size of tube that the runs are made of. */
export interface TubeKind {
  readonly od: number
  readonly wall: number
  readonly material: string
}

export const tubeKindName = ({ od, wall, material }: TubeKind): string =>
  `${Number(od.toFixed(3))}x${Number(wall.toFixed(3))} ${material}`

/** Each size and material of tube once, in the order of the runs. */
export function tubeKinds(tubes: readonly TubeKind[]): TubeKind[] {
  const kinds = new Map<string, TubeKind>()
  for (const { od, wall, material } of tubes)
    if (!kinds.has(tubeKindName({ od, wall, material })))
      kinds.set(tubeKindName({ od, wall, material }), { od, wall, material })
  return [...kinds.values()]
}

/**
 * A stock length as typed: `6000` for as many as it takes, `20ft*3` for three.
 *
 * @throws OutputError naming `place`.
 */
export function stockFromText(text: string, place: string, unit: LengthUnit): StockLength {
  const { length, count } = lengthAndCount(text, place, unit)
  return { length, count }
}

/**
 * Leftovers as typed: `1200*2` for two of 1200, `1200` for one; `1200*2 of 12x1.5` or `… of 12x1.5 316` when the
 * runs are of more than one tube.
 *
 * @param kinds the tubes that the runs are of.
 * @throws OutputError naming `place`.
 */
export function remnantFromText(
  text: string,
  place: string,
  unit: LengthUnit,
  kinds: readonly TubeKind[],
): Remnant {
  const [before = '', after] = text.split(/\s+of\s+/, 2)
  const { length, count } = lengthAndCount(before, place, unit)
  return { name: 'remnant', ...kindFrom(after?.trim(), text, place, unit, kinds), length, count: count ?? 1 }
}

function kindFrom(
  said: string | undefined,
  text: string,
  place: string,
  unit: LengthUnit,
  kinds: readonly TubeKind[],
): TubeKind {
  const listed = kinds.map(k => `"${tubeKindName(k)}"`).join(', ') || 'none: no run has a tube'
  let matching = kinds
  if (said !== undefined) {
    const [size = '', ...material] = said.split(/\s+(?=[^\s]*$)/)
    const sized = (words: string) => {
      const [od, wall] = words.split(/[x×]/).map(part => parseLength(part, unit))
      return (k: TubeKind) =>
        od?.ok === true &&
        wall?.ok === true &&
        Math.abs(k.od - od.mm) < 0.05 &&
        Math.abs(k.wall - wall.mm) < 0.05
    }
    matching = kinds.filter(k => sized(said)(k) || (material[0] === k.material && sized(size)(k)))
  }
  if (matching.length === 1) return matching[0]!
  throw new OutputError(
    place,
    `"${text}"`,
    `the tube that it is of, as in "1200*2 of ${kinds[0] ? tubeKindName(kinds[0]) : '12x1.5 316'}"; there is ${listed}`,
  )
}

function lengthAndCount(
  text: string,
  place: string,
  unit: LengthUnit,
): { length: number; count: number | null } {
  const wanted = 'a length, as in 6000, 20ft or 1200*2 for two of them'
  const cut = text.lastIndexOf('*')
  const read = parseLength(cut < 0 ? text : text.slice(0, cut), unit)
  if (!read.ok) throw new OutputError(place, `"${text}"`, `${wanted} (${read.reason})`)
  if (!(read.mm > 0)) throw new OutputError(place, `"${text}"`, `${wanted}, above 0`)
  if (cut < 0) return { length: read.mm, count: null }
  const count = Number(text.slice(cut + 1).trim() || Number.NaN)
  if (!(Number.isInteger(count) && count >= 1))
    throw new OutputError(place, `"${text}"`, `${wanted}: a whole number behind the *`)
  return { length: read.mm, count }
}
