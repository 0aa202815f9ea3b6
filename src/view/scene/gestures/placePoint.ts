import { insertVertex, setEnd } from '../../../document/edits.ts'
import { runOf } from '../../../document/lookUp.ts'
import type { Fitting, SkidDocument } from '../../../document/types.ts'
import { addScaled, distance, unit, type Vec3 } from '../../../geometry/vec3.ts'
import { bodyName } from '../../../skid/models/modelBodies.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { type Flat, lineThrough, planeThrough, underRay } from '../flat.ts'
import { modelUnder } from '../pickable.ts'
import { along, dragStep, rounded, tidy } from '../pointLimits.ts'
import { rayMeetsSolid } from '../raySolid.ts'
import { routeOf } from '../routeOf.ts'
import { brokenRule, routeReadout } from '../routeReadout.ts'
import { type Guide, sceneStore } from '../sceneStore.ts'
import { snap } from '../snaps.ts'
import { snapTargets } from '../snapTargets.ts'
import type { Stage } from '../stage.ts'
import { SNAP_PX, snapGuide } from './dragPoint.ts'
import type { Move } from './gesture.ts'

interface Place {
  readonly at: Vec3
  /** What it lies on, in words. */
  readonly on: string
  readonly names: readonly string[]
  readonly guides: readonly Guide[]
  /** The port that the run would end in. */
  readonly port: Fitting | null
}

/** Clicking nearer to a port's face than this means the port, px. */
const PORT_PX = 12

type Route = NonNullable<ReturnType<typeof routeOf>>
const inHand = (): Route | null =>
  routeOf(documentStore.getState().settled, sessionStore.getState().runInHand)

/**
 * Where a click would put the next point: on a port for a free end B, along the port's axis or the last leg (Shift),
 * on the face of a solid under the cursor (the tube resting on it), or on the work plane. Alt holds off faces and snaps.
 */
function placeUnder(stage: Stage, route: Route, e: Move): Place | null {
  const { settled: document } = documentStore.getState()
  const { planeZ } = sceneStore.getState()
  const ray = stage.ray(e.x, e.y)
  const { points, ids, run } = route
  const last = points[points.length - 2]!

  if (run.endB.kind === 'free' && !e.shift) {
    const port = document.fittings.find(f => {
      const seen = stage.project(f.position)
      const own = run.endA.kind === 'port' && run.endA.fitting === f.id
      return seen && !own && Math.hypot(seen.x - e.x, seen.y - e.y) <= PORT_PX
    })
    if (port) return { at: port.position, on: `end B in ${port.name}`, names: [], guides: [], port }
  }

  let flat: Flat = planeThrough([0, 0, planeZ], [0, 0, 1])
  let at = underRay(flat, ray.origin, ray.direction)
  let on = 'on the work plane'
  let snapsHere = !e.alt
  const direction = e.shift ? onwards(route) : null
  if (direction) {
    flat = lineThrough(last, direction)
    at = underRay(flat, ray.origin, ray.direction)
    on = points.length === 2 ? 'along the axis of end A' : `along leg ${points.length - 2}`
  } else if (!e.alt) {
    let nearest = Number.POSITIVE_INFINITY
    for (const solid of document.solids) {
      if (solid.kind === 'floor' || solid.kind === 'keepOut' || solid.shape === 'plane') continue
      const hit = rayMeetsSolid(ray, solid)
      if (!hit || hit.along >= nearest) continue
      nearest = hit.along
      at = tidy(addScaled(hit.point, hit.normal, run.tube.od / 2))
      on = `on a face of ${solid.name}`
      flat = planeThrough(at, hit.normal)
      snapsHere = solid.shape === 'box'
    }
    const part = modelUnder(ray)
    if (part && part.kind !== 'floor' && part.kind !== 'keepOut' && part.along < nearest) {
      at = tidy(addScaled(part.point, part.normal, run.tube.od / 2))
      on = `on a face of ${bodyName(part.model, part.names)}`
      flat = planeThrough(at, part.normal)
      snapsHere = false
    }
  }
  if (!at) return null
  const mm = stage.mmPerPx(at)
  const guides: Guide[] = direction
    ? [{ from: last, to: addScaled(last, direction, stage.rig.span), kind: 'lock' }]
    : []
  if (!snapsHere) return { at, on, names: [], guides, port: null }
  if (!direction && on === 'on the work plane') {
    const step = dragStep(mm, sessionStore.getState().unit !== 'mm')
    at = rounded(flat, at, step)
  }
  const moving = points.length - 1
  const targets = snapTargets({
    points: [...points.slice(0, moving), at, points[moving]!],
    ids: [...ids.slice(0, moving), 'new', ids[moving]!],
    moving,
    fittings: document.fittings,
    solids: [],
    od: run.tube.od,
  })
  const pulled = snap(at, flat, targets, SNAP_PX * mm)
  return {
    at: pulled.point,
    on,
    names: pulled.names,
    guides: [...guides, ...pulled.guides.map(g => snapGuide(g, mm))],
    port: null,
  }
}

/** The way the tube goes on from the last point before end B: out of its port, or as its last leg. */
function onwards({ points, run }: Route): Vec3 | null {
  const last = points[points.length - 2]!
  if (points.length > 2) return along(points[points.length - 3]!, last)
  if (run.endA.kind !== 'port') return null
  const { fitting: id } = run.endA
  const fitting = documentStore.getState().settled.fittings.find(f => f.id === id)
  return fitting ? unit(fitting.axis) : null
}

/** Shows where a click would put the point, and what the run would be then. */
export function showPlace(stage: Stage, e: Move) {
  const route = inHand()
  const place = route && placeUnder(stage, route, e)
  const base = { x: e.x, y: e.y, fields: [] }
  if (!route || !place) {
    const why = route
      ? 'No position here: the work plane is edge on.'
      : 'Select a run first: points go to the active run.'
    sceneStore.setState({
      guides: [],
      readout: { ...base, title: why, rows: [], broken: null, snaps: [], hint: 'Esc stops placing' },
    })
    return
  }
  const { unit: shownUnit } = sessionStore.getState()
  const n = route.points.length
  const { settled } = documentStore.getState()
  const edited = edit(settled, route, place).document
  const run = runOf(edited, route.run.id) ?? route.run
  const solved = solveRun(edited, run)
  const trial = routeOf(edited, run.id)?.points ?? route.points
  const rows = routeReadout(trial, n - 1, solved.route, shownUnit)
  const next = trial.slice(n - 2).flatMap((p, i, all): Guide[] => {
    const from = all[i - 1]
    return from ? [{ from, to: p, kind: 'next' }] : []
  })
  sceneStore.setState({
    guides: [...place.guides, ...next],
    readout: {
      ...base,
      title: place.port ? `Click: ${place.on}` : `Click: point ${n}, ${place.on}`,
      rows,
      broken: brokenRule(edited, solved, shownUnit),
      snaps: place.names,
      hint: 'Shift straight on · Alt no snap · Esc stops',
    },
  })
}

/** What a click there does to the document. */
function edit(document: SkidDocument, { run, points }: Route, { at, port }: Place) {
  return port
    ? { document: setEnd(document, run.id, 'B', { kind: 'port', fitting: port.id }), vertexId: 'B' }
    : insertVertex(document, run.id, points.length - 2, at)
}

export function stopPlacing() {
  sceneStore.setState({ readout: null, guides: [] })
}

/** Puts the point (or end B) where {@link showPlace} showed it, as one step. */
export function placeAt(stage: Stage, e: Move) {
  const route = inHand()
  const { say, select } = sessionStore.getState()
  if (!route) return say('Select a run first: points go to the active run.')
  const place = placeUnder(stage, route, e)
  if (!place) return say('No position there: the work plane is edge on. Rotate the view.')
  const { run, points } = route
  if (!place.port && distance(place.at, points[points.length - 2]!) < 1e-3)
    return say('The last point is already there: nothing placed.')
  let made = ''
  const label = place.port ? `End B in ${place.port.name}` : `Place point ${points.length}`
  documentStore.getState().apply(label, d => {
    const { document, vertexId } = edit(d, route, place)
    made = vertexId
    return document
  })
  select({ kind: 'point', run: run.id, point: made })
  say(
    place.port
      ? `End B of ${run.tag} is in ${place.port.name}.`
      : `Point ${points.length} placed ${place.on}.`,
  )
  showPlace(stage, e)
}

/** Lays the work plane level with the last point before end B. */
export function planeAtLastPoint() {
  const route = inHand()
  const last = route?.points[route.points.length - 2]
  if (last) sceneStore.setState({ planeZ: last[2] })
}
