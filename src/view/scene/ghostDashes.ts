import { addScaled, anySquareTo, cross, turnDirection, type Vec3 } from '../../geometry/vec3.ts'
import { pointOn } from '../../solve/centreLine.ts'
import type { Piece } from '../../solve/types.ts'

/** Lines drawn along the tube's outside, evenly round it: enough to read as a tube from any side. */
const LINES = 4
/** Of one tube: a longer one has longer dashes. */
const MOST_DASHES = 2000

/**
 * Dashes along a tube's outside, pairs of points, mm: dash and gap as long as the tube is thick, carried on from piece
 * to piece without twist. Overrun straights have none.
 *
 * @param whole without gaps between the dashes.
 */
export function ghostDashes(pieces: readonly Piece[], od: number, whole = false): Vec3[] {
  const points: Vec3[] = []
  const first = pieces[0]
  if (!first) return points
  const all = pieces.reduce((sum, piece) => sum + Math.max(0, piece.to - piece.from), 0)
  const step = Math.max(od, 2, all / MOST_DASHES)
  let u = anySquareTo(first.direction)
  let way = 0
  for (const piece of pieces) {
    const long = piece.to - piece.from
    const across = (along: number): Vec3 =>
      piece.kind === 'line' ? u : turnDirection(u, piece.normal, (piece.angleRad * along) / long)
    const offer = (from: number, to: number) => {
      const [a, b] = [pointOn(piece, from), pointOn(piece, to)]
      const [ua, ub] = [across(from), across(to)]
      const [va, vb] = [cross(a.direction, ua), cross(b.direction, ub)]
      for (let k = 0; k < LINES; k++) {
        const angle = (2 * Math.PI * (k + 0.5)) / LINES
        const out = (p: Vec3, s: Vec3, t: Vec3) =>
          addScaled(addScaled(p, s, (Math.cos(angle) * od) / 2), t, (Math.sin(angle) * od) / 2)
        points.push(out(a.point, ua, va), out(b.point, ub, vb))
      }
    }
    let along = 0
    while (along < long) {
      const phase = (way + along) / step
      const stop = along + (Math.floor(phase + 1e-9) + 1 - phase) * step
      const next = whole && piece.kind === 'line' ? long : Math.min(long, stop)
      if (whole || Math.floor(phase + 1e-9) % 2 === 0) offer(along, next)
      along = Math.max(next, along + 1e-6)
    }
    if (long > 0) {
      way += long
      if (piece.kind === 'arc') u = turnDirection(u, piece.normal, piece.angleRad)
    }
  }
  return points
}

/** Bends are followed in chords of at most this turn. */
const CHORD = Math.PI / 6

/**
 * The centre line as pairs of points, mm, where there are too many tubes for lines along their outsides: without gaps,
 * or every other `dash` mm of it. Overrun straights have none.
 */
export function middleLine(pieces: readonly Piece[], dash = Number.POSITIVE_INFINITY): Vec3[] {
  return pieces.flatMap(piece => {
    const long = piece.to - piece.from
    const most = piece.kind === 'arc' ? Math.min(dash, piece.radius * CHORD) : dash
    const parts = long > 0 ? Math.max(1, Math.ceil(long / most - 1e-9)) : 0
    const step = long / parts
    return Array.from({ length: parts }, (_, k) => k).flatMap(k => {
      const isGap = Math.floor((piece.from + (k + 0.5) * step) / dash) % 2 === 1
      return isGap ? [] : [k, k + 1].map(i => pointOn(piece, i * step).point)
    })
  })
}
