import type { Run, SkidDocument, Solid } from '../../document/types.ts'
import { addScaled, isFiniteVec3, unit, type Vec3 } from '../../geometry/vec3.ts'
import { routePoints } from '../../solve/solveRun.ts'
import { solvedRunOf } from '../../store/derived.ts'
import type { Part } from '../../store/sessionStore.ts'
import type { Box3 } from './cameraRig.ts'
import { modelPoints, pointsOfModel } from './modelBounds.ts'
import { boxAxes } from './raySolid.ts'

/** Points whose box holds the solid; none for a plane, which has no end. */
function cornersOf(solid: Solid): Vec3[] {
  switch (solid.shape) {
    case 'box': {
      const [x, y, z] = boxAxes(solid)
      return Array.from({ length: 8 }, (_, i) =>
        [x, y, z].reduce<Vec3>(
          (p, axis, k) => addScaled(p, axis, ((i >> k) & 1 ? 0.5 : -0.5) * solid.size[k]!),
          solid.at,
        ),
      )
    }
    case 'sphere':
      return around(solid.at, solid.radius)
    case 'cylinder': {
      const axis = unit(solid.axis) ?? [0, 0, 1]
      return [0.5, -0.5].flatMap(s =>
        [-1, 1].map((sign): Vec3 => {
          const end = addScaled(solid.at, axis, s * solid.length)
          const reach = axis.map(a => sign * solid.radius * Math.sqrt(Math.max(0, 1 - a * a)))
          return [end[0] + reach[0]!, end[1] + reach[1]!, end[2] + reach[2]!]
        }),
      )
    }
    case 'plane':
      return []
  }
}

const around = (p: Vec3, r: number): Vec3[] => [
  [p[0] - r, p[1] - r, p[2] - r],
  [p[0] + r, p[1] + r, p[2] + r],
]

/** Of the points that have a place; null when none has. */
function boxOf(points: readonly Vec3[]): Box3 | null {
  const low: [number, number, number] = [Infinity, Infinity, Infinity]
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  for (const p of points) {
    if (!isFiniteVec3(p)) continue
    for (let k = 0; k < 3; k++) {
      if (p[k]! < low[k]!) low[k] = p[k]!
      if (p[k]! > high[k]!) high[k] = p[k]!
    }
  }
  return low[0] === Infinity ? null : { low, high }
}

function runCorners(document: SkidDocument, run: Run): Vec3[] {
  const route = routePoints(document, run)
  return 'points' in route ? route.points.flatMap(p => around(p, run.tube.od)) : []
}

let last: {
  readonly runs: SkidDocument['runs']
  readonly fittings: SkidDocument['fittings']
  readonly hidden: ReadonlySet<string>
  readonly corners: readonly Vec3[]
} | null = null

/** Of all runs that are shown; kept while runs, fittings and what is hidden stay, for one opening asks three times. */
function shownCorners(document: SkidDocument, hidden: ReadonlySet<string>): readonly Vec3[] {
  const { runs, fittings } = document
  const sameHidden = last?.hidden === hidden || (last?.hidden.size === 0 && hidden.size === 0)
  if (last?.runs === runs && last.fittings === fittings && sameHidden) return last.corners
  const corners = runs.filter(r => !hidden.has(r.id)).flatMap(r => runCorners(document, r))
  last = { runs, fittings, hidden, corners }
  return corners
}

/** Points that hold all that is drawn and has an end, mm; an empty document gets a metre to work in. */
export function scenePoints(
  document: SkidDocument,
  hidden: ReadonlySet<string>,
  hiddenBodies: ReadonlySet<string> = new Set(),
): readonly Vec3[] {
  const points = [
    ...document.solids.flatMap(cornersOf),
    ...modelPoints(document, hiddenBodies),
    ...document.fittings.flatMap(f => around(f.position, 25)),
    ...shownCorners(document, hidden),
  ]
  return boxOf(points) ? points : [EMPTY.low, EMPTY.high]
}

const EMPTY: Box3 = { low: [-500, -500, 0], high: [500, 500, 500] }

/** Their box. */
export const sceneBounds = (
  document: SkidDocument,
  hidden: ReadonlySet<string>,
  hiddenBodies: ReadonlySet<string> = new Set(),
): Box3 => boxOf(scenePoints(document, hidden, hiddenBodies)) ?? EMPTY

/** Points that hold one part, with some of its surroundings; null when the document has no such part. */
export function partPoints(document: SkidDocument, part: Part): readonly Vec3[] | null {
  if (part.kind === 'solid') {
    const solid = document.solids.find(s => s.id === part.solid)
    return solid && solid.shape !== 'plane' ? cornersOf(solid) : null
  }
  if (part.kind === 'fitting') {
    const fitting = document.fittings.find(f => f.id === part.fitting)
    return fitting ? around(fitting.position, 60) : null
  }
  if (part.kind === 'support') {
    const support = document.supports.find(s => s.id === part.support)
    return support ? around(support.at, 60) : null
  }
  if (part.kind === 'model') return pointsOfModel(document, part.model, part.key)
  const run = document.runs.find(r => r.id === part.run)
  if (!run) return null
  if (part.kind === 'run') return runCorners(document, run)
  if (part.kind === 'straight') {
    const piece = solvedRunOf(document, part.run)?.route?.pieces.find(
      p => p.kind === 'line' && p.straight === part.straight,
    )
    return piece
      ? [piece.start, piece.end].flatMap(p => around(p, run.clr + run.tube.od))
      : runCorners(document, run)
  }
  const route = routePoints(document, run)
  if (!('points' in route)) return null
  const at = route.points[route.ids.indexOf(part.point)]
  return at ? around(at, 3 * run.clr + run.tube.od) : null
}
