import { deleteVertex, insertVertex } from '../../../document/edits.ts'
import { removeSupport } from '../../../document/supportEdits.ts'
import { addScaled, distance, lerp, type Vec3 } from '../../../geometry/vec3.ts'
import { solvedRunOf } from '../../../store/derived.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { legAt, legThrough, pickAt } from '../pick.ts'
import { pickable } from '../pickable.ts'
import { along, tidy } from '../pointLimits.ts'
import { pointName, routeOf } from '../routeOf.ts'
import type { Stage } from '../stage.ts'

/** Puts a new point on a leg and selects it. It lies on the leg, so the tube stays as it is until it is moved. */
function insert(runId: string, leg: number, at: Vec3) {
  let made = ''
  documentStore.getState().apply('Insert point', document => {
    const { document: next, vertexId } = insertVertex(document, runId, leg, at)
    made = vertexId
    return next
  })
  sessionStore.getState().select({ kind: 'point', run: runId, point: made })
  sessionStore
    .getState()
    .say(`Point ${leg + 2} inserted. Drag it, nudge it with the arrow keys or type its position.`)
}

/** Inserts on the leg under a double click, if there is one, a whole number of mm (or 1/16 in) from its start. */
export function insertUnder(stage: Stage, x: number, y: number) {
  const what = pickable()
  const pick = pickAt(stage, what, x, y)
  if (pick?.handle) return
  const runId = pick && 'run' in pick.part ? pick.part.run : what.handlesOf
  const route = routeOf(what.document, runId)
  if (!route) return
  const hit = legAt(stage, route.points, x, y, pick && 'run' in pick.part ? Number.POSITIVE_INFINITY : 7)
  if (!hit) return
  const from = route.points[hit.leg]!
  const direction = along(from, route.points[hit.leg + 1]!)
  if (!direction) return
  const step = sessionStore.getState().unit === 'mm' ? 1 : 25.4 / 16
  const on = Math.max(1, Math.round(distance(from, hit.at) / step)) * step
  insert(route.run.id, hit.leg, tidy(addScaled(from, direction, on)))
}

/** Inserts in the middle of the selected straight, or of the leg after the selected point. */
export function insertAtSelection() {
  const { selection, say } = sessionStore.getState()
  const { document } = documentStore.getState()
  const route = selection && 'run' in selection ? routeOf(document, selection.run) : null
  if (!route || !selection) return say('Select a straight or a point first: the new point goes on it.')
  if (selection.kind === 'straight') {
    const piece = solvedRunOf(document, route.run.id)?.route?.pieces.find(
      p => p.kind === 'line' && p.straight === selection.straight,
    )
    if (piece) {
      const middle = lerp(piece.start, piece.end, 0.5)
      insert(route.run.id, legThrough(route.points, middle), middle)
    }
    return
  }
  const i = selection.kind === 'point' ? route.ids.indexOf(selection.point) : 0
  const leg = Math.min(Math.max(0, i), route.points.length - 2)
  insert(route.run.id, leg, lerp(route.points[leg]!, route.points[leg + 1]!, 0.5))
}

/** Deletes the selected point or support; ends stay. */
export function deleteSelected() {
  const { selection, say, select } = sessionStore.getState()
  if (selection?.kind === 'support') {
    const support = documentStore.getState().settled.supports.find(s => s.id === selection.support)
    if (!support) return
    documentStore.getState().apply(`Delete ${support.name}`, d => removeSupport(d, support.id))
    select({ kind: 'run', run: support.run })
    return say(`Deleted ${support.name}.`)
  }
  if (selection?.kind !== 'point') return say('Select a point first: Delete takes a point out of its route.')
  if (selection.point === 'A' || selection.point === 'B')
    return say(`End ${selection.point} cannot be deleted; a run has two ends.`)
  const route = routeOf(documentStore.getState().settled, selection.run)
  if (!route) return
  const i = route.ids.indexOf(selection.point)
  const name = pointName(route.ids, selection.point)
  documentStore.getState().apply(`Delete ${name}`, d => deleteVertex(d, selection.run, selection.point))
  const next = route.ids[i + 1] === 'B' ? route.ids[i - 1] : route.ids[i + 1]
  select(
    next && next !== 'A'
      ? { kind: 'point', run: selection.run, point: next }
      : { kind: 'run', run: selection.run },
  )
  say(`Deleted ${name}.`)
}
