import { addScaled, cross, distance, dot, length, scale, sub, type Vec3 } from '../geometry/vec3.ts'
import { pointOn } from './centreLine.ts'
import type { ArcPiece, Piece, SolvedRoute } from './types.ts'

export interface NearestOnRoute {
  /** Distance from the given point to the centre line, mm ≥ 0. */
  readonly distance: number
  /** Distance along the centre line from end A's face, mm, 0 … developed length. */
  readonly along: number
  readonly point: Vec3
  /** Unit direction A→B there. */
  readonly direction: Vec3
  readonly piece: Piece
}

/** The point of the centre line nearest to `p`; of two as near as each other, the one nearer to end A. */
export function nearestAlong(route: SolvedRoute, p: Vec3): NearestOnRoute {
  let best: NearestOnRoute | null = null
  for (const piece of route.pieces) {
    const size = piece.to - piece.from
    // An overrun straight runs backwards: it is drawn, but no tube lies on it that the bends beside it have not.
    if (size < 0 && route.pieces.length > 1) continue
    const on = Math.min(
      Math.max(piece.kind === 'line' ? onLine(piece, p) : onArc(piece, p), 0),
      Math.max(0, size),
    )
    const { point, direction } = pointOn(piece, on)
    const away = distance(point, p)
    if (!best || away < best.distance)
      best = { distance: away, along: piece.from + on, point, direction, piece }
  }
  return best!
}

const onLine = (piece: Piece, p: Vec3) => dot(sub(p, piece.start), piece.direction)

/** Past the arc's ends it comes back as the nearer end. */
function onArc({ centre, normal, direction, radius, angleRad }: ArcPiece, p: Vec3): number {
  const from = sub(p, centre)
  const flat = addScaled(from, normal, -dot(from, normal))
  if (length(flat) < 1e-12) return 0
  const out = scale(cross(normal, direction), -1)
  const turned = Math.atan2(dot(flat, direction), dot(flat, out))
  const past = turned < 0 ? turned + 2 * Math.PI : turned
  if (past <= angleRad) return past * radius
  // Outside the arc: nearer to its end or to its start, by the turn that is missing.
  return past - angleRad < 2 * Math.PI - past ? angleRad * radius : 0
}
