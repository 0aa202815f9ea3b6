import type { SkidDocument } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import { pointName, routeOf } from './routeOf.ts'

/** A place of another part, and what a person calls it: "point 3 of AE-102". */
export interface OtherPoint {
  readonly name: string
  readonly at: Vec3
  /** The leg that goes on from here, for lining up with it: "leg 2 of AE-102". */
  readonly leg: { readonly name: string; readonly to: Vec3 } | null
}

/** Past so many points of other runs nobody sees which one is meant; the nearest in the list are as good as any. */
const MOST = 4000

/** The route points of all runs but one, and the faces of ports: what a point may be lined up with. */
export function otherPoints(document: SkidDocument, runId: string): readonly OtherPoint[] {
  const points: OtherPoint[] = document.fittings.map(f => ({ name: f.name, at: f.position, leg: null }))
  for (const run of document.runs) {
    if (run.id === runId || points.length > MOST) continue
    const route = routeOf(document, run.id)
    route?.points.forEach((at, i) => {
      const to = route.points[i + 1]
      points.push({
        name: `${pointName(route.ids, route.ids[i]!)} of ${run.tag}`,
        at,
        leg: to ? { name: `leg ${i + 1} of ${run.tag}`, to } : null,
      })
    })
  }
  return points
}
