import type { SkidDocument } from '../../document/types.ts'
import { add, addScaled, distance, dot, scale, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import { routePoints } from '../../solve/solveRun.ts'
import type { SolvedRun } from '../../solve/types.ts'
import type { Part } from '../../store/sessionStore.ts'
import type { Ray, View } from './cameraRig.ts'
import { keptSegment, rayMeetsCutSolid, type Section } from './cut.ts'
import { fittingSize } from './hexMesh.ts'
import { boxNear, pickBox, pickPieces } from './pickIndex.ts'
import type { ModelHit } from './rayModels.ts'
import { supportStand } from './supportStand.ts'

export interface Pickable {
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
  readonly hidden: ReadonlySet<string>
  /** The run whose vertices have handles, or null. */
  readonly handlesOf: string | null
  /** The part of a model that a ray meets first. Left out: no model is there. */
  readonly meetModel?: (ray: Ray) => ModelHit | null
  /** What lies on its cut side is not there to be picked; handles are. Left out: nothing is cut. */
  readonly section?: Section | null
  /** Ids of solids that are not drawn. Left out: none. */
  readonly hiddenBodies?: ReadonlySet<string>
}
export interface Pick {
  readonly part: Part
  /** On the thing, mm. */
  readonly at: Vec3
  /** True for a handle: it can be dragged. */
  readonly handle: boolean
}

/** How near a cursor must come, px. */
const HANDLE_PX = 12
const TUBE_PX = 5

/**
 * What lies under a screen position: handles first, then tubes and fittings (even behind a solid, which one can see
 * through, but not behind a model), then solids and parts of models.
 *
 * @param reach how much wider than a mouse the pointer is: 2 for a finger.
 */
export function pickAt(view: View, of: Pickable, x: number, y: number, reach = 1): Pick | null {
  const handle = pickHandle(view, of, x, y, reach)
  if (handle) return handle
  const slender = pickSlender(view, of, x, y, reach)
  const hit = of.meetModel?.(view.ray(x, y)) ?? null
  if (slender && !(hit && covers(view, hit, slender))) return slender.pick
  return pickBody(view, of, hit, x, y)
}

function pickHandle(view: View, of: Pickable, x: number, y: number, reach: number): Pick | null {
  const run = of.document.runs.find(r => r.id === of.handlesOf)
  const route = run && !of.hidden.has(run.id) ? routePoints(of.document, run) : null
  if (!run || !route || !('points' in route)) return null
  let best: Pick | null = null
  let least = HANDLE_PX * reach
  route.points.forEach((at, i) => {
    const seen = view.project(at)
    const away = seen ? Math.hypot(seen.x - x, seen.y - y) : Number.POSITIVE_INFINITY
    if (away >= least) return
    least = away
    best = { part: { kind: 'point', run: run.id, point: route.ids[i]! }, at, handle: true }
  })
  return best
}

/** Whether a part of a model stands before a tube or fitting; one that it touches or holds is still seen. */
function covers(view: View, hit: ModelHit, { pick, radius }: Slender): boolean {
  if (hit.kind === 'keepOut' || hit.kind === 'leftOut') return false
  const [model, slender] = [view.project(hit.point), view.project(pick.at)]
  return model !== null && slender !== null && model.depth > slender.depth + 2 * radius
}

interface Slender {
  readonly pick: Pick
  readonly radius: number
}

/** The point of the segment nearest to a ray, and its part along the segment, 0 … 1. */
export function nearestOnSegment(ray: Ray, a: Vec3, b: Vec3): { at: Vec3; t: number } {
  const d = sub(b, a)
  const w = sub(a, ray.origin)
  const [dd, dr, wd, wr] = [dot(d, d), dot(d, ray.direction), dot(w, d), dot(w, ray.direction)]
  const slack = dd - dr * dr
  const t = slack > 1e-12 * dd && dd > 0 ? Math.min(1, Math.max(0, (dr * wr - wd) / slack)) : 0
  return { at: addScaled(a, d, t), t }
}

function pickSlender(view: View, of: Pickable, x: number, y: number, reach: number): Slender | null {
  const ray = view.ray(x, y)
  const near = boxNear(view, x, y, TUBE_PX * reach)
  let best: (Slender & { score: number }) | null = null
  /** Inside its outline the nearest to the eye wins; beside it, the nearest to the cursor. */
  const offer = (a: Vec3, b: Vec3, radius: number, part: Part, nearer = 0) => {
    const kept = keptSegment(of.section ?? null, a, b)
    if (!kept) return
    const { at } = nearestOnSegment(ray, ...kept)
    const seen = view.project(at)
    if (!seen) return
    const away = Math.hypot(seen.x - x, seen.y - y) - radius * seen.perMm
    if (away > TUBE_PX * reach) return
    const score = away > 0 ? 1e9 + away : -seen.depth - nearer
    if (!best || score < best.score) best = { pick: { part, at, handle: false }, radius, score }
  }
  for (const fitting of of.document.fittings) {
    const axis = unit(fitting.axis)
    if (!axis) continue
    const { behind, collar, flats } = fittingSize(fitting)
    offer(addScaled(fitting.position, axis, -behind), addScaled(fitting.position, axis, collar), flats / 2, {
      kind: 'fitting',
      fitting: fitting.id,
    })
  }
  const runs =
    of.document.supports.length > 0
      ? new Map(of.document.runs.map((run, i) => [run.id, { run, route: of.solved[i]?.route ?? null }]))
      : new Map<string, never>()
  for (const support of of.document.supports) {
    const held = of.hidden.has(support.run) ? undefined : runs.get(support.run)
    if (!held) continue
    const { at, along, half, reach } = supportStand(support, held.run.tube.od, held.route)
    // It holds the tube between its sides: the tube inside it is not what is pointed at.
    offer(
      addScaled(at, along, -half),
      addScaled(at, along, half),
      0.8 * reach,
      { kind: 'support', support: support.id },
      reach,
    )
  }
  of.document.runs.forEach((run, i) => {
    if (of.hidden.has(run.id)) return
    const { route } = of.solved[i] ?? { route: null }
    if (!route) {
      const sharp = routePoints(of.document, run)
      if ('points' in sharp)
        sharp.points.slice(1).forEach((p, k) => {
          offer(sharp.points[k]!, p, 0, { kind: 'run', run: run.id })
        })
      return
    }
    const radius = run.tube.od / 2
    if (!near(pickBox(route), radius)) return
    for (const { piece, chords, box } of pickPieces(route)) {
      if (!near(box, radius)) continue
      const part: Part =
        piece.kind === 'line'
          ? { kind: 'straight', run: run.id, straight: piece.straight }
          : { kind: 'point', run: run.id, point: route.bends[piece.bend]!.vertexId }
      for (let k = 1; k < chords.length; k++) offer(chords[k - 1]!, chords[k]!, radius, part)
    }
  })
  return best
}

function pickBody(view: View, of: Pickable, met: ModelHit | null, x: number, y: number): Pick | null {
  const ray = view.ray(x, y)
  let best: { pick: Pick; along: number } | null = met && {
    pick: { part: { kind: 'model', model: met.model.id, key: met.key }, at: met.point, handle: false },
    along: met.along,
  }
  for (const solid of of.document.solids) {
    if (solid.shape === 'plane' || of.hiddenBodies?.has(solid.id)) continue
    const hit = rayMeetsCutSolid(ray, solid, of.section ?? null)
    if (hit && (!best || hit.along < best.along))
      best = {
        pick: { part: { kind: 'solid', solid: solid.id }, at: hit.point, handle: false },
        along: hit.along,
      }
  }
  return best?.pick ?? null
}

/** The run's leg (0 starts at end A) nearest under a screen position, and the point on it; null beyond `within` px. */
export function legAt(
  view: View,
  points: readonly Vec3[],
  x: number,
  y: number,
  within: number,
): { leg: number; at: Vec3 } | null {
  const ray = view.ray(x, y)
  let best: { leg: number; at: Vec3; away: number } | null = null
  for (let i = 0; i + 1 < points.length; i++) {
    const { at } = nearestOnSegment(ray, points[i]!, points[i + 1]!)
    const seen = view.project(at)
    const away = seen ? Math.hypot(seen.x - x, seen.y - y) : Number.POSITIVE_INFINITY
    if (away <= within && (!best || away < best.away)) best = { leg: i, at, away }
  }
  return best && { leg: best.leg, at: best.at }
}

/** The leg that passes nearest to a point of the route's own line, for an insertion there. */
export function legThrough(points: readonly Vec3[], at: Vec3): number {
  let best = { leg: 0, off: Number.POSITIVE_INFINITY }
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b] = [points[i]!, points[i + 1]!]
    const d = sub(b, a)
    const t = Math.min(1, Math.max(0, dot(sub(at, a), d) / Math.max(dot(d, d), 1e-12)))
    const off = distance(add(a, scale(d, t)), at)
    if (off < best.off) best = { leg: i, off }
  }
  return best.leg
}
