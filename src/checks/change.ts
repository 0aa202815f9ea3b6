import type { Sentence } from '../document/sentence.ts'

/** One figure or word of a run that is not what it was. Null: the version has no such figure. */
export interface Change {
  readonly what: string
  readonly before: number | string | null
  readonly after: number | string | null
  readonly unit: 'mm' | 'deg' | ''
  /** What the words before and after say, where lengths are in them, for any unit; the words themselves are in mm. */
  readonly sentences?: { readonly before: Sentence; readonly after: Sentence }
}

/** Of a rotation, of a bend or of a part. */
const isTurn = ({ what, unit }: Pick<Change, 'what' | 'unit'>): boolean =>
  unit === 'deg' && /\b(rotation|turn)\b/.test(what)

/** The later figure less the earlier one, of a turn the short way round, (−180, 180]; null unless both are numbers. */
export function differenceOf({ what, before, after, unit }: Change): number | null {
  if (typeof before !== 'number' || typeof after !== 'number') return null
  const by = after - before
  if (!isTurn({ what, unit })) return by
  const round = ((by % 360) + 360) % 360
  return round > 180 ? round - 360 : round
}
