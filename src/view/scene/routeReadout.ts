import { formatAngle, formatLength, type LengthUnit } from '../../document/quantity.ts'
import { distance, type Vec3 } from '../../geometry/vec3.ts'
import type { RouteProblem, SolvedRoute } from '../../solve/types.ts'

export interface RouteFigures {
  readonly rows: readonly { readonly name: string; readonly value: string }[]
  readonly broken: string | null
}

/** The figures about one point of a route as it stands: legs beside it, its bend, the rule it breaks first. */
export function routeReadout(
  points: readonly Vec3[],
  moving: number,
  solved: { readonly route: SolvedRoute | null; readonly problem: RouteProblem | null },
  unit: LengthUnit,
): RouteFigures {
  const written = (mm: number) => formatLength(mm, unit, { withUnit: true, digits: unit === 'mm' ? 1 : 3 })
  const rows: { name: string; value: string }[] = []
  const at = points[moving]!
  const [before, after] = [points[moving - 1], points[moving + 1]]
  if (before) rows.push({ name: `Leg ${moving}`, value: written(distance(before, at)) })
  if (after) rows.push({ name: `Leg ${moving + 1}`, value: written(distance(at, after)) })
  const { route, problem } = solved
  for (const bend of route?.bends ?? [])
    if (Math.abs(bend.vertex - moving) <= 1)
      rows.push({ name: `Bend ${route!.bends.indexOf(bend) + 1}`, value: `${formatAngle(bend.angle, 1)}°` })
  const short = route?.straights.findIndex(s => s < 0) ?? -1
  const missing = route?.straights[short]
  const broken = problem
    ? problem.message
    : missing !== undefined
      ? `Straight ${short + 1} is overrun: ${written(-missing)} missing between its bends`
      : null
  return { rows, broken }
}
