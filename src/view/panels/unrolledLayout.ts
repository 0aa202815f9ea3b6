import type { SolvedRoute } from '../../solve/types.ts'
import type { NeededStraight } from './neededStraight.ts'

/** A stretch of the stock, mm from its end at A. */
interface Stretch {
  readonly from: number
  /** Below `from` where a straight is overrun. */
  readonly to: number
}
export interface StraightStretch extends Stretch {
  readonly index: number
  readonly length: number
  /** Where it must stay straight and what for; empty when nothing asks for it or it is not known. */
  readonly needed: readonly (Stretch & { readonly name: string; readonly always: boolean })[]
  /** How much it lacks, mm, 0 when long enough. */
  readonly missing: number
}
export interface BendStretch extends Stretch {
  readonly index: number
  readonly vertexId: string
  readonly angle: number
}
/** The turn from one bend to the next, over the middle of the straight between. */
export interface Turn {
  readonly at: number
  /** Bend that it turns to, 0-based; its rotation, (−180, 180]°. */
  readonly bend: number
  readonly rotation: number
}
export interface Unrolled {
  readonly straights: readonly StraightStretch[]
  readonly bends: readonly BendStretch[]
  readonly turns: readonly Turn[]
  readonly insertionA: Stretch | null
  readonly insertionB: Stretch | null
  readonly trim: Stretch | null
  /** Faces of the two ends. */
  readonly faceA: number
  readonly faceB: number
  /** All of it, least and greatest; `start` is below 0 only where an overrun runs off the stock's end. */
  readonly start: number
  readonly end: number
}

/** Less missing than this is rounding, not a short straight. mm. */
const ROUNDING_MM = 1e-6

/** The tube lying on the bench, unbent: every stretch of the stock with what it becomes. */
export function unrolled(
  route: SolvedRoute,
  needs: readonly NeededStraight[],
  insertionA: number,
  insertionB: number,
  trim: number,
): Unrolled {
  const straights: StraightStretch[] = []
  const bends: BendStretch[] = []
  const turns: Turn[] = []
  let at = insertionA
  let start = 0
  let end = 0
  route.straights.forEach((length, index) => {
    const from = at
    at += length
    const need = needs[index]
    const asked = need?.length ?? 0
    const to = at
    straights.push({
      index,
      from,
      to,
      length,
      needed: (need?.all ?? [])
        .filter(n => n.need > 0)
        .map(n => ({
          name: n.name,
          always: !n.someOrdersOnly,
          from: n.from === 'start' ? from : to - n.need,
          to: n.from === 'start' ? from + n.need : to,
        })),
      missing: length < -ROUNDING_MM || asked - length > ROUNDING_MM ? asked - length : 0,
    })
    start = Math.min(start, at)
    const bend = route.bends[index]
    if (!bend) return
    if (bend.rotation !== null) turns.push({ at: (from + at) / 2, bend: index, rotation: bend.rotation })
    bends.push({ index, vertexId: bend.vertexId, angle: bend.angle, from: at, to: at + bend.arcLength })
    at += bend.arcLength
    end = Math.max(end, at)
  })
  const faceB = at
  const stretch = (from: number, length: number) => (length > 0 ? { from, to: from + length } : null)
  return {
    straights,
    bends,
    turns,
    insertionA: stretch(0, insertionA),
    insertionB: stretch(faceB, insertionB),
    trim: stretch(faceB + insertionB, trim),
    faceA: insertionA,
    faceB,
    start,
    end: Math.max(end, faceB + insertionB + trim),
  }
}

/** mm → px, so that everything from `start` to `end` lies between `left` and `right`. */
export interface Scale {
  readonly pxPerMm: number
  /** px of 0 mm. */
  readonly zero: number
}

export function fitScale(drawn: Pick<Unrolled, 'start' | 'end'>, left: number, right: number): Scale {
  const span = drawn.end - drawn.start
  const pxPerMm = span > 0 ? Math.max(0, right - left) / span : 1
  return { pxPerMm, zero: left - drawn.start * pxPerMm }
}

/** The same scale shifted so that `mm` lies at `px`: what holds still while a straight is dragged. */
export const pinned = (scale: Scale, mm: number, px: number): Scale => ({
  pxPerMm: scale.pxPerMm,
  zero: px - mm * scale.pxPerMm,
})

export const toPx = (scale: Scale, mm: number): number => scale.zero + mm * scale.pxPerMm
