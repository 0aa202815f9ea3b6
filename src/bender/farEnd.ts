import {
  add,
  addScaled,
  anySquareTo,
  cross,
  DEG,
  distance,
  dot,
  negate,
  squared,
  sub,
  turnDirection,
  type Vec3,
} from '../geometry/vec3.ts'
import type { Lead } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'
import { routeOf, type Stock, stockOf } from './layOut.ts'

/** Where the other end comes when one is held in its place and bends settle at other angles. */
export interface EndMiss {
  readonly held: Lead
  readonly misses: Lead
  /** From where that end of the tube is wanted to where it comes, skid axes, mm. */
  readonly offset: Vec3
  /** Length of `offset`, mm ≥ 0. */
  readonly by: number
  /** Between the way it should point and the way it does, degrees, 0 … 180. */
  readonly tilt: number
  /** How much longer (or, negative, shorter) the tube measures from end to end, mm. */
  readonly endToEnd: number
}

/**
 * Where the end that is not held comes, as the tube lies in the skid with the held end in its place and the bend next
 * to it in its plane. The ends are those of the tube, inside their ports. The stock in a bend stays the arc drawn in,
 * so that its radius is arc / settled angle.
 *
 * @param settled measured angles, degrees, A order; null: taken as wanted.
 * @param turnedBy what is added to the rotation between each bend and the one before it from end A, degrees, clockwise
 * positive from A to B; left out: nothing.
 * @throws RangeError when a measured angle is not in (0, 180).
 */
export function endMiss(
  run: SolvedRun,
  settled: readonly (number | null)[],
  held: Lead,
  turnedBy: readonly number[] = [],
): EndMiss {
  const { bends } = routeOf(run)
  const wanted = bends.map(b => b.angle)
  const got = wanted.map((angle, k) => settled[k] ?? angle)
  got.forEach((angle, k) => {
    if (!(angle > 0 && angle < 180))
      throw new RangeError(
        `bend ${k + 1}: found a measured angle of ${angle}°, wanted more than 0° and less than 180°`,
      )
  })
  const start = heldEnd(run, held)
  const stock = stockOf(run)
  const want = otherEnd(stock, wanted, held, start)
  const have = otherEnd(stock, got, held, start, turnedBy)
  const offset = sub(have.at, want.at)
  const across = cross(want.direction, have.direction)
  return {
    held,
    misses: held === 'A' ? 'B' : 'A',
    offset,
    by: distance(have.at, want.at),
    tilt: Math.atan2(Math.hypot(...across), dot(want.direction, have.direction)) / DEG,
    endToEnd: distance(have.at, start.at) - distance(want.at, start.at),
  }
}

/** One figure of the tube that is off, and what that does to an end. */
export interface LargestMiss {
  /** Counted from end A, 0-based: the bend, or the one on the B side of the rotation. */
  readonly bend: number
  readonly misses: Lead
  /** How far that end comes from its place when the other is held, mm. */
  readonly by: number
}

/**
 * The bend whose angle, off by `off` either way, puts an end farthest from its place while the other end is held; null
 * when no bend can be off by so much.
 *
 * @param off degrees ≥ 0.
 */
export function largestOfAngles(run: SolvedRun, off: number): LargestMiss | null {
  const { bends } = routeOf(run)
  return largest(bends.length, 0, off, (bend, by, held) => {
    const angle = bends[bend]!.angle + by
    return angle > 0 && angle < 180
      ? endMiss(
          run,
          bends.map((_, k) => (k === bend ? angle : null)),
          held,
        )
      : null
  })
}

/** The same of the rotations between two bends; null when there is none. */
export function largestOfTurns(run: SolvedRun, off: number): LargestMiss | null {
  const { bends } = routeOf(run)
  const wanted = bends.map(() => null)
  return largest(bends.length, 1, off, (bend, by, held) =>
    endMiss(
      run,
      wanted,
      held,
      wanted.map((_, k) => (k === bend ? by : 0)),
    ),
  )
}

function largest(
  bends: number,
  first: number,
  off: number,
  missOf: (bend: number, by: number, held: Lead) => EndMiss | null,
): LargestMiss | null {
  let worst: LargestMiss | null = null
  for (let bend = first; bend < bends; bend++)
    for (const held of ['A', 'B'] as const)
      for (const by of [off, 0 - off]) {
        const miss = missOf(bend, by, held)
        if (miss && (worst === null || miss.by > worst.by + ROUNDING))
          worst = { bend, misses: miss.misses, by: miss.by }
      }
  return worst
}

/** Effects this near to each other are the same: the first of them is named. mm. */
const ROUNDING = 1e-9

interface EndFrame {
  readonly at: Vec3
  /** Into the tube. */
  readonly direction: Vec3
  /** The tube turns right-handed about it at the first bend. */
  readonly normal: Vec3
}

/** The end of the tube in its port, skid axes. */
function heldEnd(run: SolvedRun, held: Lead): EndFrame {
  const { pieces } = routeOf(run)
  const arcs = pieces.filter(p => p.kind === 'arc')
  if (held === 'A') {
    const { start, direction } = pieces[0]!
    const normal = arcs[0]?.normal ?? anySquareTo(direction)
    return { at: addScaled(start, direction, 0 - run.insertionA), direction, normal }
  }
  const last = pieces.at(-1)!
  const out =
    last.kind === 'line' ? last.direction : turnDirection(last.direction, last.normal, last.angleRad)
  const normal = arcs.at(-1)?.normal ?? anySquareTo(out)
  return { at: addScaled(last.end, out, run.insertionB), direction: negate(out), normal: negate(normal) }
}

/** The other end of the tube, and the way it points there. */
function otherEnd(
  stock: Stock,
  angles: readonly number[],
  held: Lead,
  start: EndFrame,
  turnedBy: readonly number[] = [],
): EndFrame {
  const order = angles.map((_, k) => (held === 'A' ? k : angles.length - 1 - k))
  let { at, direction, normal } = start
  order.forEach((k, i) => {
    at = addScaled(at, direction, stock.straights[held === 'A' ? k : k + 1]!)
    const before = order[i - 1]
    // Torsion is the same whichever way the tube is walked.
    const rotation =
      before === undefined
        ? 0
        : (stock.planes[k]! - stock.planes[before]!) * (held === 'A' ? 1 : -1) +
          (turnedBy[Math.max(k, before)] ?? 0)
    normal = turnDirection(normal, direction, rotation * DEG)
    const angleRad = angles[k]! * DEG
    const centre = addScaled(at, cross(normal, direction), stock.arcs[k]! / angleRad)
    at = add(centre, turnDirection(sub(at, centre), normal, angleRad))
    ;[direction, normal] = squared(turnDirection(direction, normal, angleRad), normal)
  })
  return {
    at: addScaled(at, direction, stock.straights.at(held === 'A' ? -1 : 0)!),
    direction,
    normal,
  }
}
