import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import { routePoints } from '../../solve/solveRun.ts'

/** The run with its route points and their ids, or null when it is not there or an end's fitting is missing. */
export function routeOf(
  document: SkidDocument,
  runId: string | null,
): { run: Run; points: readonly Vec3[]; ids: readonly string[] } | null {
  const run = document.runs.find(r => r.id === runId)
  const route = run && routePoints(document, run)
  return run && route && 'points' in route ? { run, points: route.points, ids: route.ids } : null
}

/** What a person calls a route point: "end A", "point 2" (end A being the first), as the table of points has it. */
export const pointName = (ids: readonly string[], id: string): string =>
  id === 'A' || id === 'B' ? `end ${id}` : `point ${ids.indexOf(id) + 1}`

/** A place in words: "x 360, y 200, z 700 mm". */
export const placeInWords = (at: Vec3, unit: LengthUnit): string =>
  `${(['x', 'y', 'z'] as const).map((axis, k) => `${axis} ${formatLength(at[k]!, unit)}`).join(', ')} ${unit === 'mm' ? 'mm' : 'in'}`
