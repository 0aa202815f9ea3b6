import type { Solid } from '../../document/types.ts'
import { addScaled, dot, sub, type Vec3 } from '../../geometry/vec3.ts'
import { cornersOf, edgesOf, faceOf, type Thing, thingName } from '../../skid/measurable.ts'
import { bodyId } from '../../skid/models/modelBodies.ts'
import { routePoints } from '../../solve/solveRun.ts'
import type { ShownGap } from '../../store/sessionStore.ts'
import type { View } from '../scene/cameraRig.ts'
import { isCutAway, keptSegment, rayMeetsCutSolid, type Section } from '../scene/cut.ts'
import { nearestOnSegment, type Pick, type Pickable, pickAt } from '../scene/pick.ts'

export interface MeasureSnap {
  readonly thing: Thing
  readonly name: string
  /** Where the pointer takes it, mm. */
  readonly at: Vec3
  /** Pairs of points that show it: a line along it, or nothing for a point. */
  readonly hint: readonly Vec3[]
}

export interface MeasureSight {
  readonly pickable: Pickable
  readonly hiddenBodies: ReadonlySet<string>
  readonly section: Section | null
  readonly gap: ShownGap | null
  /** Whose bend centres count; the others lie in the air where nobody looks for them. */
  readonly runInHand: string | null
}

const POINT_PX = 9
const LINE_PX = 6
/** The middle of a tube, as a part of its radius, where the pointer means its centre line. */
const MIDDLE = 0.4
/** Thinner on screen than this there is no middle to aim at. px */
const THIN_PX = 5

/**
 * What a measurement takes at a screen position: points first, then edges and axes, then what lies under it.
 *
 * @param whole take the whole tube, solid or model under the pointer.
 * @param reach how much wider than a mouse the pointer is.
 */
export function measureSnap(
  view: View,
  sight: MeasureSight,
  x: number,
  y: number,
  { whole, reach = 1 }: { readonly whole: boolean; readonly reach?: number },
): MeasureSnap | null {
  const found = whole
    ? wholeUnder(view, sight, x, y, reach)
    : (pointUnder(view, sight, x, y, reach) ??
      edgeUnder(view, sight, x, y, reach) ??
      partUnder(view, sight, x, y, reach))
  const name = found && thingName(sight.pickable.document, found.thing)
  return found && name ? { ...found, name } : null
}

type Found = Omit<MeasureSnap, 'name'>

const isShown = (sight: MeasureSight, solid: Solid) =>
  !sight.hiddenBodies.has(solid.id) && solid.shape !== 'plane'

function pointUnder(view: View, sight: MeasureSight, x: number, y: number, reach: number): Found | null {
  const { document, hidden, solved } = sight.pickable
  let best: Found | null = null
  let least = POINT_PX * reach
  const offer = (at: Vec3, thing: Thing) => {
    if (isCutAway(sight.section, at)) return
    const seen = view.project(at)
    const away = seen ? Math.hypot(seen.x - x, seen.y - y) : Number.POSITIVE_INFINITY
    if (away >= least) return
    least = away
    best = { thing, at, hint: [] }
  }
  if (sight.gap)
    for (const [at, name] of [
      [sight.gap.from, 'first end of the gap'],
      [sight.gap.to, 'second end of the gap'],
    ] as const)
      offer(at, { kind: 'place', at, name })
  for (const fitting of document.fittings) offer(fitting.position, { kind: 'port', fitting: fitting.id })
  document.runs.forEach((run, i) => {
    if (hidden.has(run.id)) return
    const route = routePoints(document, run)
    if ('points' in route)
      route.points.forEach((at, k) => {
        offer(at, { kind: 'point', run: run.id, point: route.ids[k]! })
      })
    const bent = run.id === sight.runInHand ? solved[i]?.route : null
    for (const piece of bent?.pieces ?? [])
      if (piece.kind === 'arc')
        offer(piece.centre, { kind: 'bendCentre', run: run.id, point: bent!.bends[piece.bend]!.vertexId })
  })
  for (const solid of document.solids) {
    if (!isShown(sight, solid)) continue
    if (solid.shape === 'box')
      cornersOf(solid).forEach((at, corner) => {
        offer(at, { kind: 'corner', solid: solid.id, corner })
      })
  }
  return best
}

function edgeUnder(view: View, sight: MeasureSight, x: number, y: number, reach: number): Found | null {
  const ray = view.ray(x, y)
  let best: Found | null = null
  let least = LINE_PX * reach
  for (const solid of sight.pickable.document.solids) {
    if (!isShown(sight, solid) || solid.shape !== 'box') continue
    edgesOf(solid).forEach((ends, edge) => {
      const kept = keptSegment(sight.section, ...ends)
      if (!kept) return
      const { at } = nearestOnSegment(ray, ...kept)
      const seen = view.project(at)
      const away = seen ? Math.hypot(seen.x - x, seen.y - y) : Number.POSITIVE_INFINITY
      if (away >= least) return
      least = away
      best = { thing: { kind: 'edge', solid: solid.id, edge }, at, hint: ends }
    })
  }
  return best
}

function partUnder(view: View, sight: MeasureSight, x: number, y: number, reach: number): Found | null {
  const pick = pickAt(view, { ...sight.pickable, handlesOf: null }, x, y, reach)
  if (!pick) return null
  const { part, at } = pick
  if (part.kind === 'straight') {
    const i = sight.pickable.document.runs.findIndex(r => r.id === part.run)
    const piece = sight.pickable.solved[i]?.route?.pieces.find(
      p => p.kind === 'line' && p.straight === part.straight,
    )
    const seen = view.project(at)
    const radius = seen ? (seen.perMm * sight.pickable.document.runs[i]!.tube.od) / 2 : 0
    const away = seen ? Math.hypot(seen.x - x, seen.y - y) : Number.POSITIVE_INFINITY
    if (piece && radius >= THIN_PX && away <= MIDDLE * radius)
      return {
        thing: { kind: 'straight', run: part.run, straight: part.straight },
        at,
        hint: [piece.start, piece.end],
      }
  }
  if (part.kind === 'solid') {
    const face = faceUnder(view, sight, part.solid, x, y)
    if (face) return face
  }
  if (part.kind === 'model')
    return { thing: { kind: 'place', at, name: 'place on an imported part' }, at, hint: [] }
  return wholeOf(pick, sight)
}

function faceUnder(
  view: View,
  { pickable, section }: MeasureSight,
  solidId: string,
  x: number,
  y: number,
): Found | null {
  const solid = pickable.document.solids.find(s => s.id === solidId)
  const hit = solid && rayMeetsCutSolid(view.ray(x, y), solid, section)
  if (!solid || !hit) return null
  for (let face = 0; face < 6; face++) {
    const found = faceOf(solid, face)
    if (!found || dot(found.normal, hit.normal) < 1 - 1e-9) continue
    // The face that the section makes is no face of the solid.
    if (Math.abs(found.plate.signedDistance(hit.point).value) > 1e-6) continue
    return { thing: { kind: 'face', solid: solid.id, face }, at: hit.point, hint: crossOn(found, hit.point) }
  }
  return null
}

/** A small cross that lies on the face shows which face is meant. */
function crossOn({ plate }: NonNullable<ReturnType<typeof faceOf>>, at: Vec3): Vec3[] {
  const size = Math.min(20, 0.1 * Math.hypot(...sub(plate.high, plate.low)))
  return plate.directions.slice(0, 3).flatMap(way => {
    const [p, q] = [addScaled(at, way, size), addScaled(at, way, -size)]
    return Math.abs(plate.signedDistance(p).value) < 1e-6 && Math.abs(plate.signedDistance(q).value) < 1e-6
      ? [p, q]
      : []
  })
}

function wholeUnder(view: View, sight: MeasureSight, x: number, y: number, reach: number): Found | null {
  const pick = pickAt(view, { ...sight.pickable, handlesOf: null }, x, y, reach)
  return pick && wholeOf(pick, sight)
}

function wholeOf({ part, at }: Pick, { pickable }: MeasureSight): Found | null {
  const whole = (thing: Thing, hint: readonly Vec3[] = []): Found => ({ thing, at, hint })
  switch (part.kind) {
    case 'run':
    case 'straight':
    case 'point': {
      const i = pickable.document.runs.findIndex(r => r.id === part.run)
      const pieces = pickable.solved[i]?.route?.pieces ?? []
      return whole(
        { kind: 'tube', run: part.run },
        pieces.flatMap(p => (p.kind === 'line' ? [p.start, p.end] : [])),
      )
    }
    case 'fitting':
      return whole({ kind: 'port', fitting: part.fitting })
    case 'solid':
      return whole({ kind: 'solid', solid: part.solid })
    case 'model':
      return part.key === null ? null : whole({ kind: 'model', model: bodyId(part.model, part.key) })
    case 'support':
      return null
  }
}
