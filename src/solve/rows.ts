import {
  addScaled,
  anySquareTo,
  cross,
  DEG,
  dot,
  squared,
  turnDirection,
  unit,
  type Vec3,
} from '../geometry/vec3.ts'
import { type BendRadius, radiusAt } from './making.ts'
import type { SolvedRoute } from './types.ts'

/** Bend rows: what a fabricator calls length, rotation, bend. One more straight than bends. mm and degrees. */
export interface Rows {
  readonly straights: readonly number[]
  /** rotation is null (or ignored) on the first bend; (−180, 180], clockwise positive looking from A to B. */
  readonly bends: readonly { readonly angle: number; readonly rotation: number | null }[]
}

/** Where the rows start: end A, the first leg's direction, and the first bend's plane normal. Unit, square. */
export interface StartFrame {
  readonly origin: Vec3
  readonly direction: Vec3
  readonly normal: Vec3
}

/** End A at the origin, heading +x, the first bend turning towards +y. */
export const PLAIN_FRAME: StartFrame = { origin: [0, 0, 0], direction: [1, 0, 0], normal: [0, 0, 1] }

/**
 * Route points (end A, one vertex per bend, end B; mm) from bend rows.
 *
 * @param clr of every bend, or of a bend by its angle.
 * @throws RangeError naming the row when counts differ, a figure is not finite or an angle is outside (0, 180).
 */
export function rowsToPoints(rows: Rows, clr: BendRadius, frame: StartFrame): Vec3[] {
  const { straights, bends } = rows
  if (straights.length !== bends.length + 1)
    throw new RangeError(
      `rows: found ${straights.length} straights for ${bends.length} bends, wanted ${bends.length + 1}`,
    )
  straights.forEach((s, i) => {
    if (!Number.isFinite(s))
      throw new RangeError(`straight ${i + 1}: found ${s}, wanted a finite length in mm`)
  })
  const points: Vec3[] = [frame.origin]
  let at = frame.origin
  let direction = frame.direction
  let normal = frame.normal
  let tangentBefore = 0
  bends.forEach((bend, k) => {
    if (!(bend.angle > 0 && bend.angle < 180))
      throw new RangeError(
        `bend ${k + 1}: found an angle of ${bend.angle}°, wanted more than 0 and less than 180`,
      )
    if (k > 0) {
      if (bend.rotation === null || !Number.isFinite(bend.rotation))
        throw new RangeError(`bend ${k + 1}: found a rotation of ${bend.rotation}, wanted a finite angle`)
      normal = turnDirection(normal, direction, bend.rotation * DEG)
    }
    const tangent = radiusAt(clr, bend.angle) * Math.tan((bend.angle * DEG) / 2)
    at = addScaled(at, direction, tangentBefore + straights[k]! + tangent)
    points.push(at)
    ;[direction, normal] = squared(turnDirection(direction, normal, bend.angle * DEG), normal)
    tangentBefore = tangent
  })
  points.push(addScaled(at, direction, tangentBefore + straights[straights.length - 1]!))
  return points
}

export const rowsOf = (route: SolvedRoute): Rows => ({ straights: route.straights, bends: route.bends })

/** The frame that, with the route's rows, gives the route's points back. */
export function startFrame(route: SolvedRoute): StartFrame {
  const first = route.pieces[0]!
  const arc = route.pieces[1]
  return {
    origin: route.points[0]!,
    direction: first.kind === 'line' ? first.direction : [1, 0, 0],
    normal:
      arc?.kind === 'arc' ? arc.normal : anySquareTo(first.kind === 'line' ? first.direction : [1, 0, 0]),
  }
}

/** The same frame seen from end B: origin at B, heading back into the tube, its first plane the last bend's. */
export function endFrame(route: SolvedRoute): StartFrame {
  const last = route.pieces[route.pieces.length - 1]!
  const arc = route.pieces[route.pieces.length - 2]
  const direction: Vec3 =
    last.kind === 'line' ? [-last.direction[0], -last.direction[1], -last.direction[2]] : [1, 0, 0]
  return {
    origin: route.points[route.points.length - 1]!,
    direction,
    normal: arc?.kind === 'arc' ? [-arc.normal[0], -arc.normal[1], -arc.normal[2]] : anySquareTo(direction),
  }
}

/** Rows read from the other end: order reversed, every angle kept, every rotation kept between the same two bends. */
export function reversedRows(rows: Rows): Rows {
  const n = rows.bends.length
  return {
    straights: [...rows.straights].reverse(),
    bends: Array.from({ length: n }, (_, k) => ({
      angle: rows.bends[n - 1 - k]!.angle,
      rotation: k === 0 ? null : rows.bends[n - k]!.rotation,
    })),
  }
}

/** A square, unit frame from a heading and a rough normal; null when they are parallel or have no length. */
export function squareFrame(origin: Vec3, heading: Vec3, roughNormal: Vec3): StartFrame | null {
  const direction = unit(heading)
  if (!direction) return null
  const normal = unit(addScaled(roughNormal, direction, -dot(roughNormal, direction)))
  return normal && unit(cross(normal, direction)) ? { origin, direction, normal } : null
}
