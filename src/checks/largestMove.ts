import type { Run, SkidDocument } from '../document/types.ts'
import { distance, type Vec3 } from '../geometry/vec3.ts'
import { routePoints } from '../solve/solveRun.ts'

/** The route point of a run that lies furthest from where it was. */
export interface Move {
  /** "end A", "point 3" (as numbered now), "end B". */
  readonly point: string
  /** mm */
  readonly by: number
  readonly from: Vec3
  readonly to: Vec3
}

/** Moves smaller than this are rounding, mm. */
const SAME = 1e-6

/** The largest move of a point that both versions of a run have; null when none has moved or an end has no place. */
export function largestMove(before: SkidDocument, was: Run, after: SkidDocument, run: Run): Move | null {
  const a = routePoints(before, was)
  const b = routePoints(after, run)
  if (!('points' in a) || !('points' in b)) return null
  const old = new Map(a.ids.map((id, i) => [id, a.points[i]!]))
  let largest: Move | null = null
  b.ids.forEach((id, i) => {
    const from = old.get(id)
    const to = b.points[i]!
    if (!from) return
    const by = distance(from, to)
    if (by > SAME && by > (largest?.by ?? 0))
      largest = { point: id === 'A' || id === 'B' ? `end ${id}` : `point ${i + 1}`, by, from, to }
  })
  return largest
}
