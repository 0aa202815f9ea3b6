import { add, addScaled, cross, scale, turnDirection, type Vec3 } from '../geometry/vec3.ts'
import type { Piece, SolvedBend, SolvedRoute } from './types.ts'

interface Skeleton {
  /** End A, the vertices that bend, end B. */
  readonly points: readonly Vec3[]
  readonly straights: readonly number[]
  readonly bends: readonly SolvedBend[]
  readonly directions: readonly Vec3[]
  readonly normals: readonly Vec3[]
}

/**
 * The centre line as exact lines and arcs, A to B. A line with an overrun (negative) straight runs backwards: its
 * `to` is below its `from`; `direction` stays A→B.
 */
export function centreLine({ points, straights, bends, directions, normals }: Skeleton): Piece[] {
  const pieces: Piece[] = []
  let at = 0
  let start = points[0]!
  for (let k = 0; k < straights.length; k++) {
    const straight = straights[k]!
    const direction = directions[k]!
    const bend = bends[k]
    const end = bend ? addScaled(points[k + 1]!, direction, -bend.tangentLength) : points[k + 1]!
    pieces.push({ kind: 'line', straight: k, from: at, to: at + straight, start, end, direction })
    at += straight
    if (!bend) break
    const normal = normals[k]!
    const leaving = addScaled(points[k + 1]!, directions[k + 1]!, bend.tangentLength)
    pieces.push({
      kind: 'arc',
      bend: k,
      from: at,
      to: at + bend.arcLength,
      start: end,
      end: leaving,
      centre: addScaled(end, cross(normal, direction), bend.clr),
      radius: bend.clr,
      normal,
      direction,
      angleRad: bend.arcLength / bend.clr,
    })
    at += bend.arcLength
    start = leaving
  }
  return pieces
}

/**
 * Point (mm) and unit direction A→B at a distance along the centre line from end A's face.
 *
 * @throws RangeError when `along` is outside 0 … developed length (1e-9 mm of rounding is let through).
 */
export function pointAt(route: SolvedRoute, along: number): { point: Vec3; direction: Vec3 } {
  if (!(along >= -1e-9 && along <= route.developedLength + 1e-9))
    throw new RangeError(`pointAt: found ${along} mm, wanted 0 to ${route.developedLength} mm from end A`)
  const piece = route.pieces.find(p => along <= p.to) ?? route.pieces[route.pieces.length - 1]!
  return pointOn(piece, along - piece.from)
}

/** Point and unit direction on one piece, `along` mm past its start. */
export function pointOn(piece: Piece, along: number): { point: Vec3; direction: Vec3 } {
  if (piece.kind === 'line')
    return { point: addScaled(piece.start, piece.direction, along), direction: piece.direction }
  const turned = along / piece.radius
  const towardsCentre = cross(piece.normal, piece.direction)
  const out = turnDirection(scale(towardsCentre, -piece.radius), piece.normal, turned)
  return { point: add(piece.centre, out), direction: turnDirection(piece.direction, piece.normal, turned) }
}
