import { pointOn } from './centreLine.ts'
import type { Piece } from './types.ts'

/** The pieces of a centre line between two distances from end A, mm; overrun straights are left out. */
export const piecesBetween = (pieces: readonly Piece[], from: number, to: number): Piece[] =>
  pieces.flatMap((piece): Piece[] => {
    const [a, b] = [Math.max(piece.from, from), Math.min(piece.to, to)]
    if (!(b > a)) return []
    const start = pointOn(piece, a - piece.from)
    const end = pointOn(piece, b - piece.from).point
    const part = { from: a, to: b, start: start.point, end }
    return piece.kind === 'line'
      ? [{ ...piece, ...part }]
      : [{ ...piece, ...part, direction: start.direction, angleRad: (b - a) / piece.radius }]
  })
