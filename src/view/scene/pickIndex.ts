import { addScaled, type Vec3 } from '../../geometry/vec3.ts'
import { pointOn } from '../../solve/centreLine.ts'
import type { Piece, SolvedRoute } from '../../solve/types.ts'
import type { Box3, View } from './cameraRig.ts'

/** Corners of a piece's centre line as it is picked: a bend is chords of at most 15°. */
function chordsOf(piece: Piece): readonly Vec3[] {
  if (piece.kind === 'line') return [piece.start, piece.end]
  const steps = Math.max(2, Math.ceil(piece.angleRad / 0.26))
  return Array.from(
    { length: steps + 1 },
    (_, i) => pointOn(piece, ((piece.to - piece.from) * i) / steps).point,
  )
}

export interface PickPiece {
  readonly piece: Piece
  readonly chords: readonly Vec3[]
  /** Of the chords, without the tube's thickness. */
  readonly box: Box3
}

const boxes = new WeakMap<SolvedRoute, Box3>()
const pieces = new WeakMap<SolvedRoute, readonly PickPiece[]>()

/** The route's pieces with their chords and boxes; kept as long as the route is. */
export function pickPieces(route: SolvedRoute): readonly PickPiece[] {
  let known = pieces.get(route)
  if (!known) {
    known = route.pieces.map(piece => {
      const chords = chordsOf(piece)
      return { piece, chords, box: boxOf(chords) }
    })
    pieces.set(route, known)
  }
  return known
}

/** Box of all its chords; kept as long as the route is. */
export function pickBox(route: SolvedRoute): Box3 {
  let known = boxes.get(route)
  if (!known) {
    known = boxOf(route.pieces.flatMap(chordsOf))
    boxes.set(route, known)
  }
  return known
}

function boxOf(points: readonly Vec3[]): Box3 {
  const low: [number, number, number] = [Infinity, Infinity, Infinity]
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  for (const p of points)
    for (let k = 0; k < 3; k++) {
      low[k] = Math.min(low[k]!, p[k]!)
      high[k] = Math.max(high[k]!, p[k]!)
    }
  return { low, high }
}

/** So far behind the picture that it is in front of every eye, mm. */
const FAR_MM = 1e7

/**
 * Whether anything with its centre line inside a box, and that thick (radius, mm), can come within `px` of a screen
 * position. True when in doubt.
 *
 * A point that is seen s px from the position is s ÷ (px per mm at its depth) from the point of the ray at the same
 * depth. So the ray meets the box widened by radius + px · (mm per px where the box is farthest away). The mm that one
 * px covers fall linearly with depth towards the eye, in parallel projection not at all.
 */
export function boxNear(
  view: View,
  x: number,
  y: number,
  px: number,
): (box: Box3, radius: number) => boolean {
  const { origin, direction } = view.ray(x, y)
  const [a, b] = [FAR_MM, 2 * FAR_MM].map(t => view.project(addScaled(origin, direction, t)))
  if (!a || !b) return () => true
  const slope = (1 / b.perMm - 1 / a.perMm) / (b.depth - a.depth)
  const isParallel = Math.abs(slope) * FAR_MM < 1e-6 / a.perMm
  const atTarget = 1 / a.perMm - slope * a.depth
  return ({ low, high }, radius) => {
    const centre: Vec3 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2]
    const half = Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2]) / 2
    const seen = view.project(centre)
    // A middle behind the eye is no farther than the nearest depth that is seen, a thousandth of the target's.
    const mmPerPx = isParallel ? atTarget : (seen ? 1 / seen.perMm : atTarget * 1e-3) + Math.abs(slope) * half
    const reach = (radius + px * mmPerPx) * (1 + 1e-6) + 1e-6
    let from = isParallel ? -Infinity : 0
    let to = Infinity
    for (let k = 0; k < 3; k++) {
      const [l, h] = [low[k]! - reach - origin[k]!, high[k]! + reach - origin[k]!]
      const d = direction[k]!
      if (Math.abs(d) < 1e-12) {
        if (l > 0 || h < 0) return false
        continue
      }
      const [near, far] = d > 0 ? [l / d, h / d] : [h / d, l / d]
      from = Math.max(from, near)
      to = Math.min(to, far)
      if (from > to) return false
    }
    return true
  }
}
