import { runChecks } from '../../checks/runChecks.ts'
import { formatAngle, formatLength, type LengthUnit } from '../../document/quantity.ts'
import { inUnit } from '../../document/sentence.ts'
import type { SkidDocument } from '../../document/types.ts'
import { distance, type Vec3 } from '../../geometry/vec3.ts'
import type { SolvedRoute, SolvedRun } from '../../solve/types.ts'
import type { Readout } from './sceneStore.ts'

/** The figures about one point of a route as it stands: the legs beside it, and the bends at it and next to it. */
export function routeReadout(
  points: readonly Vec3[],
  moving: number,
  route: SolvedRoute | null,
  unit: LengthUnit,
): Readout['rows'] {
  const written = (mm: number) => formatLength(mm, unit, { withUnit: true, digits: unit === 'mm' ? 1 : 3 })
  const rows: { name: string; value: string }[] = []
  const at = points[moving]!
  const [before, after] = [points[moving - 1], points[moving + 1]]
  if (before) rows.push({ name: `Leg ${moving}`, value: written(distance(before, at)) })
  if (after) rows.push({ name: `Leg ${moving + 1}`, value: written(distance(at, after)) })
  route?.bends.forEach((bend, k) => {
    if (Math.abs(bend.vertex - moving) <= 1)
      rows.push({ name: `Bend ${k + 1}`, value: `${formatAngle(bend.angle, 1)}°` })
  })
  return rows
}

/** The worst rule the run breaks in this document, in a sentence; null when it breaks none that is checked at once. */
export function brokenRule(document: SkidDocument, solved: SolvedRun, unit: LengthUnit): string | null {
  const broken = runChecks(document, [solved]).findings.filter(
    f => f.where.run === solved.runId && f.severity === 'error',
  )
  const first = broken[0]
  return first
    ? `${inUnit(first.sentence, unit)}${broken.length > 1 ? ` (and ${broken.length - 1} more)` : ''}`
    : null
}
