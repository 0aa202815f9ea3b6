import { endPoint } from '../../document/lookUp.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { addScaled, dot, negate, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import { routePoints } from '../../solve/solveRun.ts'

/** Neighbouring route points of one run that move together, and which way. Route index 0 is end A. */
export interface Move {
  readonly run: Run
  readonly first: number
  readonly last: number
  /** Unit direction. */
  readonly direction: Vec3
  /** The direction in words, as in "along +y". */
  readonly way: string
}

/** A direction that means something on this route, with its name; it is tried both ways. */
export interface Line {
  readonly direction: Vec3
  readonly forwards: string
  readonly backwards: string
}

/** Directions whose cosine is above this are one. */
const SAME_LINE = 1 - 1e-9
/** Groups of more points than this are tried only as the whole stretch between the ends. */
const MOST_TOGETHER = 4

const AXES: readonly Line[] = [
  { direction: [1, 0, 0], forwards: 'along +x', backwards: 'along −x' },
  { direction: [0, 1, 0], forwards: 'along +y', backwards: 'along −y' },
  { direction: [0, 0, 1], forwards: 'along +z', backwards: 'along −z' },
]

/**
 * Every move of neighbouring points with one of `near` among them: one point, a leg, more, all between the ends;
 * along x, y, z, the legs beside the group, and `normal`, each both ways. An end in a port stays put.
 *
 * @param normal square to the gap; null when the two touch in a point.
 */
export function movesOf(
  document: SkidDocument,
  run: Run,
  near: readonly number[],
  normal: Line | null,
): Move[] {
  const route = routePoints(document, run)
  if (!('points' in route)) return []
  const { points } = route
  const end = points.length - 1
  const lowest = run.endA.kind === 'free' ? 0 : 1
  const highest = run.endB.kind === 'free' ? end : end - 1
  const moves: Move[] = []
  for (let first = lowest; first <= highest; first++)
    for (let last = first; last <= highest; last++) {
      const whole = first === Math.max(lowest, 1) && last === Math.min(highest, end - 1)
      if (last - first >= MOST_TOGETHER && !whole && !(first === lowest && last === highest)) continue
      if (!near.some(k => k >= first && k <= last)) continue
      for (const { direction, forwards, backwards } of linesFor(points, first, last, normal)) {
        moves.push({ run, first, last, direction, way: forwards })
        moves.push({ run, first, last, direction: negate(direction), way: backwards })
      }
    }
  return moves
}

function linesFor(points: readonly Vec3[], first: number, last: number, normal: Line | null): Line[] {
  const lines = [...AXES]
  const offer = (direction: Vec3 | null, forwards: string, backwards: string) => {
    if (direction && !lines.some(l => Math.abs(dot(l.direction, direction)) > SAME_LINE))
      lines.push({ direction, forwards, backwards })
  }
  const leg = (k: number) => {
    const [from, to] = [points[k], points[k + 1]]
    if (from && to)
      offer(unit(sub(to, from)), `along leg ${k + 1}, towards B`, `along leg ${k + 1}, towards A`)
  }
  leg(first - 1)
  leg(last)
  if (normal) offer(normal.direction, normal.forwards, normal.backwards)
  return lines
}

/** The run with the move's points shifted by `by` mm; what does not move keeps its identity. */
export function shifted(
  document: SkidDocument,
  { run, first, last, direction }: Pick<Move, 'run' | 'first' | 'last' | 'direction'>,
  by: number,
): Run {
  const free = (end: Run['endA'], at: number): Run['endA'] => {
    const from = endPoint(document, end)
    return end.kind === 'free' && from && at >= first && at <= last
      ? { kind: 'free', at: addScaled(from, direction, by) }
      : end
  }
  return {
    ...run,
    endA: free(run.endA, 0),
    endB: free(run.endB, run.vertices.length + 1),
    vertices: run.vertices.map((v, i) =>
      i + 1 >= first && i + 1 <= last ? { ...v, at: addScaled(v.at, direction, by) } : v,
    ),
  }
}

/** "point 3", "points 3 and 4", "points 3 to 6", "end B": what moves, as the table of points numbers it. */
export function whatMoves({ run, first, last }: Move): string {
  const end = run.vertices.length + 1
  const name = (k: number) => (k === 0 ? 'end A' : k === end ? 'end B' : `point ${k + 1}`)
  if (first === last) return name(first)
  if (first > 0 && last < end) return `points ${first + 1} ${last === first + 1 ? 'and' : 'to'} ${last + 1}`
  return `${name(first)} ${last === first + 1 ? 'and' : 'to'} ${name(last)}`
}
