import { insertVertex, setEnd } from '../../../document/edits.ts'
import { runOf } from '../../../document/lookUp.ts'
import { formatLength } from '../../../document/quantity.ts'
import type { Fitting, SkidDocument } from '../../../document/types.ts'
import { addScaled, distance, scale, unit, type Vec3 } from '../../../geometry/vec3.ts'
import { bodyName } from '../../../skid/models/modelBodies.ts'
import { solveRun } from '../../../solve/solveRun.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { type Flat, lineThrough, planeThrough, underRay } from '../flat.ts'
import { otherPoints } from '../otherPoints.ts'
import { modelUnder } from '../pickable.ts'
import { AXES, AXIS_DIRECTIONS, type Axis, along, dragStep, rounded, tidy } from '../pointLimits.ts'
import { rayMeetsSolid } from '../raySolid.ts'
import { routeOf } from '../routeOf.ts'
import { brokenRule, routeReadout } from '../routeReadout.ts'
import { type Guide, sceneStore } from '../sceneStore.ts'
import { snap } from '../snaps.ts'
import { nearbyTargets, snapTargets } from '../snapTargets.ts'
import type { Stage } from '../stage.ts'
import { SNAP_PX, snapGuide } from './dragPoint.ts'
import type { Move } from './gesture.ts'
import { legForPlace } from './legForPlace.ts'

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
/** A route, and the leg of it that the next point goes on. */
type Placing = Route & { readonly leg: number }
function inHand(): Placing | null {
  const { settled } = documentStore.getState()
  const { runInHand, selection } = sessionStore.getState()
  const route = routeOf(settled, runInHand)
  return route && { ...route, leg: legForPlace(settled, route, selection) }
}

/**
 * Where a click would put the next point: on a port for a free end B, along the port's axis or the leg before (Shift),
 * on the face of a solid under the cursor (the tube resting on it), or on the work plane. Alt holds off faces, Ctrl snaps
 * and rounding.
 */
function placeUnder(stage: Stage, route: Placing, e: Move): Place | null {
  const { settled: document } = documentStore.getState()
  const { plane, onFaces } = sceneStore.getState()
  const ray = stage.ray(e.x, e.y)
  const { points, ids, run, leg } = route
  const last = points[leg]!

  if (run.endB.kind === 'free' && leg === points.length - 2 && !e.shift) {
    const port = document.fittings.find(f => {
      const seen = stage.project(f.position)
      const own = run.endA.kind === 'port' && run.endA.fitting === f.id
      return seen && !own && Math.hypot(seen.x - e.x, seen.y - e.y) <= PORT_PX
    })
    if (port) return { at: port.position, on: `end B in ${port.name}`, names: [], guides: [], port }
  }

  let flat: Flat = workPlane(plane)
  let at = underRay(flat, ray.origin, ray.direction)
  let on = `on the work plane, ${plane.axis} ${formatLength(plane.at, sessionStore.getState().unit, { withUnit: true })}`
  let onPlane = true
  let snapsHere = !e.ctrl
  const direction = e.shift ? onwards(route) : null
  if (direction) {
    flat = lineThrough(last, direction)
    at = underRay(flat, ray.origin, ray.direction)
    on = leg === 0 ? 'along the axis of end A' : `along leg ${leg}`
    onPlane = false
  } else if (onFaces !== e.alt) {
    let nearest = Number.POSITIVE_INFINITY
    for (const solid of document.solids) {
      if (solid.kind === 'floor' || solid.kind === 'keepOut' || solid.shape === 'plane') continue
      const hit = rayMeetsSolid(ray, solid)
      if (!hit || hit.along >= nearest) continue
      nearest = hit.along
      at = tidy(addScaled(hit.point, hit.normal, run.tube.od / 2))
      on = `on a face of ${solid.name}`
      flat = planeThrough(at, hit.normal)
      onPlane = false
      snapsHere = solid.shape === 'box' && !e.ctrl
    }
    const part = modelUnder(ray)
    if (part && part.kind !== 'floor' && part.kind !== 'keepOut' && part.along < nearest) {
      at = tidy(addScaled(part.point, part.normal, run.tube.od / 2))
      on = `on a face of ${bodyName(part.model, part.names)}`
      flat = planeThrough(at, part.normal)
      onPlane = false
      snapsHere = false
    }
  }
  if (!at) return null
  const mm = stage.mmPerPx(at)
  const guides: Guide[] = direction
    ? [{ from: last, to: addScaled(last, direction, stage.rig.span), kind: 'lock' }]
    : []
  if (!snapsHere) return { at, on, names: [], guides, port: null }
  if (onPlane) {
    const step = dragStep(mm, sessionStore.getState().unit !== 'mm')
    at = rounded(flat, at, step)
  }
  const moving = leg + 1
  const targets = snapTargets({
    points: [...points.slice(0, moving), at, ...points.slice(moving)],
    ids: [...ids.slice(0, moving), 'new', ...ids.slice(moving)],
    moving,
    fittings: document.fittings,
    solids: [],
    od: run.tube.od,
  })
  const others = otherPoints(document, run.id)
  const pulled = snap(at, flat, [...targets, ...nearbyTargets(others, at)], SNAP_PX * mm)
  return {
    at: pulled.point,
    on,
    names: pulled.names,
    guides: [...guides, ...pulled.guides.map(g => snapGuide(g, mm))],
    port: null,
  }
}

/** The plane that clicks land on. */
const workPlane = ({ axis, at }: { readonly axis: Axis; readonly at: number }): Flat =>
  planeThrough(scale(AXIS_DIRECTIONS[axis], at), AXIS_DIRECTIONS[axis])

/** The way the tube comes to the point that the next one goes after: out of its port, or as the leg before it. */
function onwards({ points, run, leg }: Placing): Vec3 | null {
  if (leg > 0) return along(points[leg - 1]!, points[leg]!)
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
      ? `No position here: the work plane across ${sceneStore.getState().plane.axis} is edge on.`
      : 'Select a run first: points go to the active run.'
    sceneStore.setState({
      guides: [],
      readout: { ...base, title: why, rows: [], broken: null, snaps: [], hint: 'Esc stops placing' },
    })
    return
  }
  const { unit: shownUnit } = sessionStore.getState()
  const { leg } = route
  if (isTaken(route, place)) return showMoveOn(route, e)
  const { settled } = documentStore.getState()
  const edited = edit(settled, route, place).document
  const run = runOf(edited, route.run.id) ?? route.run
  const solved = solveRun(edited, run)
  const trial = routeOf(edited, run.id)?.points ?? route.points
  const rows = routeReadout(trial, leg + 1, solved.route, shownUnit)
  const next = trial.slice(leg, leg + 3).flatMap((p, i, all): Guide[] => {
    const from = all[i - 1]
    return from ? [{ from, to: p, kind: 'next' }] : []
  })
  sceneStore.setState({
    guides: [...place.guides, ...next],
    readout: {
      ...base,
      title: place.port ? `Click: ${place.on}` : `Click: point ${leg + 2}, ${place.on}`,
      rows,
      broken: brokenRule(edited, solved, shownUnit),
      isHalfLaid: true,
      snaps: place.names,
      hint: `Shift: straight on · Alt: ${sceneStore.getState().onFaces ? 'work plane' : 'faces'} · Ctrl: no snap · Esc stops`,
    },
  })
}

/** The pointer lies on a point that is there, the one just placed perhaps: that is no fault of the route. */
const showMoveOn = ({ leg }: Placing, { x, y }: Move) =>
  sceneStore.setState({
    guides: [],
    readout: {
      x,
      y,
      fields: [],
      title: `Point ${leg + 2} is next: move on`,
      rows: [],
      broken: null,
      snaps: [],
      hint: 'Esc stops placing',
    },
  })

/** Whether a point of the leg that the next one goes on is there already. */
const isTaken = ({ points, leg }: Placing, { at, port }: Place): boolean =>
  !port && [points[leg]!, points[leg + 1]!].some(p => distance(at, p) < 1e-3)

/** What a click there does to the document. */
function edit(document: SkidDocument, { run, leg }: Placing, { at, port }: Place) {
  return port
    ? { document: setEnd(document, run.id, 'B', { kind: 'port', fitting: port.id }), vertexId: 'B' }
    : insertVertex(document, run.id, leg, at)
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
  const { run, leg } = route
  if (isTaken(route, place)) return say('A point of the run is already there: nothing placed.')
  let made = ''
  const label = place.port ? `End B in ${place.port.name}` : `Place point ${leg + 2}`
  documentStore.getState().apply(label, d => {
    const { document, vertexId } = edit(d, route, place)
    made = vertexId
    return document
  })
  select({ kind: 'point', run: run.id, point: made })
  say(place.port ? `End B of ${run.tag} is in ${place.port.name}.` : `Point ${leg + 2} placed ${place.on}.`)
  if (sceneStore.getState().planeFollows) planeThroughPoint(place.at)
  const next = inHand()
  if (next) showMoveOn(next, e)
}

/** Lays the work plane, as it is turned, through a point. */
function planeThroughPoint(point: Vec3) {
  const { plane } = sceneStore.getState()
  const at = point[AXES.indexOf(plane.axis)]!
  if (at !== plane.at) sceneStore.setState({ plane: { ...plane, at } })
}

/** Lays it through the point that the next one goes after. */
export function planeAtLastPoint() {
  const route = inHand()
  if (route) planeThroughPoint(route.points[route.leg]!)
}

/** Turns the work plane square to an axis, through the point that the next one goes after. */
export function turnPlane(axis: Axis) {
  sceneStore.setState({ plane: { ...sceneStore.getState().plane, axis } })
  planeAtLastPoint()
}
