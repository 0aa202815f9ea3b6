import { movePoint } from '../../../document/edits.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { planeThrough, underRay } from '../flat.ts'
import { routeOf } from '../routeOf.ts'
import type { Stage } from '../stage.ts'
import type { Gesture, Move } from './gesture.ts'

export function dragPoint(stage: Stage, runId: string, pointId: string, _from: Move): Gesture | null {
  const route = routeOf(documentStore.getState().settled, runId)
  const start = route?.points[route.ids.indexOf(pointId)]
  if (!start) return null
  sessionStore.getState().select({ kind: 'point', run: runId, point: pointId })
  return {
    move(e) {
      const ray = stage.ray(e.x, e.y)
      const at = underRay(planeThrough(start, [0, 0, 1]), ray.origin, ray.direction)
      if (at) documentStore.getState().preview(d => movePoint(d, runId, pointId, at))
    },
    end: () => documentStore.getState().settle('Move point'),
    cancel: () => documentStore.getState().cancel(),
  }
}
