import { lerp } from '../../geometry/vec3.ts'
import type { LinePiece, Piece } from '../../solve/types.ts'
import { PLAIN_DETAIL, type TubeDetail, tubeMesh } from './tubeGeometry.ts'

/** Widths of the bands of one mark, in ODs; none for a tube without. */
export type BandCode = readonly number[]

/** Between two bands of a mark, in ODs. */
const BETWEEN = 0.6
/** From mark to mark along a straight, in ODs, and mm at least. */
const PITCH = 14
const LEAST_PITCH_MM = 70
/** No tube has more marks than this. */
const MOST_MARKS = 60
/** How far a band stands out from the tube, as a part of its OD: no more than keeps it in front. */
const PROUD = 1.04

const NEAR: TubeDetail = PLAIN_DETAIL

/**
 * Bands round a tube's straights that tell it from others without its colour: one mark in the middle of each straight
 * that is long enough for it, and more at even distances. Triangles in mm; null where no straight has the room.
 *
 * @param sparse only the longest straight is marked: for tubes of many.
 */
export function tubeBands(pieces: readonly Piece[], od: number, code: BandCode, sparse: boolean) {
  const long = (code.reduce((sum, w) => sum + w, 0) + BETWEEN * (code.length - 1)) * od
  if (code.length === 0) return null
  let straights = pieces.filter((p): p is LinePiece => p.kind === 'line' && p.to - p.from > 1.5 * long)
  const lengthOf = (p: LinePiece) => p.to - p.from
  if (sparse) straights = straights.toSorted((a, b) => lengthOf(b) - lengthOf(a)).slice(0, 1)
  const pitch = Math.max(PITCH * od, LEAST_PITCH_MM)
  const bands: LinePiece[] = []
  let marks = 0
  for (const p of straights) {
    const count = sparse ? 1 : Math.max(1, Math.floor((lengthOf(p) - long) / pitch))
    for (let k = 0; k < count && marks < MOST_MARKS; k++, marks++) {
      let at = lengthOf(p) / 2 + (k - (count - 1) / 2) * pitch - long / 2
      for (const width of code) {
        bands.push(stretch(p, at, at + width * od))
        at += (width + BETWEEN) * od
      }
    }
  }
  return bands.length > 0 ? tubeMesh(apart(bands), od * PROUD, 0, NEAR) : null
}

const stretch = (p: LinePiece, from: number, to: number): LinePiece => {
  const at = (along: number) => lerp(p.start, p.end, along / (p.to - p.from))
  return { ...p, from, to, start: at(from), end: at(to) }
}

/** With an overrun straight between each two, for which a tube's mesh ends and begins anew. */
const apart = (bands: readonly LinePiece[]): Piece[] =>
  bands.flatMap((b, i) => (i === 0 ? [b] : [{ ...b, from: 1, to: 0, start: b.start, end: b.start }, b]))

/** Whether dark stands out from it better than light does; by its relative luminance (WCAG 2.2), from linear parts. */
export const isLight = ({
  r,
  g,
  b,
}: {
  readonly r: number
  readonly g: number
  readonly b: number
}): boolean =>
  (0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05) / 0.05 > 1.05 / (0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05)
