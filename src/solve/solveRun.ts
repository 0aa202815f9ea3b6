import { endPoint } from '../document/lookUp.ts'
import { everyDigit, inMm, type Sentence, say, told } from '../document/sentence.ts'
import type { Run, SkidDocument, Springback } from '../document/types.ts'
import { DEG, isFiniteVec3, type Vec3 } from '../geometry/vec3.ts'
import { centreLine } from './centreLine.ts'
import { type BendRadius, makingOf, radiusAt } from './making.ts'
import type { RouteProblem, RouteResult, SolvedBend, SolvedRun } from './types.ts'

/** Below this the two legs are one line: 1e-6° is far under any bench's reading and over rounding. Degrees. */
export const NO_BEND_DEG = 1e-6
/** Points nearer than this are one point: no direction can be read off them. Millimetres. */
export const COINCIDENT_MM = 1e-6
/** A rotation this near −180° is the half turn that +180° names; it is the rounding of atan2. Degrees. */
const HALF_TURN_DEG = 1e-11

const toDeg = 1 / DEG
const figure = ([x, y, z]: Vec3) =>
  say`(${everyDigit(x, true)}, ${everyDigit(y, true)}, ${everyDigit(z, true)})`

/**
 * Solves a route: straights, bend angles, signed plane rotations, tangent and arc lengths, the exact centre line.
 *
 * @param points end A, vertices, end B; mm.
 * @param ids one id per point, for findings and selection.
 * @param clr of every bend, or of a bend by its angle.
 * @returns straights (mm, negative where tangents overrun the leg), angles in (0, 180)°, rotations in
 *   (−180, 180]° clockwise positive looking from A to B, null on the first bend (the IUPAC torsion angle of the
 *   four route points around the straight); or the named problem. Never throws, never NaN.
 * @see shared trade notes, section 3: θ = atan2(|d×d′|, d·d′), T = CLR·tan(θ/2).
 */
export function solveRoute(points: readonly Vec3[], ids: readonly string[], clr: BendRadius): RouteResult {
  const lengths = legLengths(points)
  const problem = findProblem(points, ids, typeof clr === 'number' ? clr : null, lengths)
  if (problem) return { ok: false, problem }

  const corners: Vec3[] = [points[0]!]
  const passedThrough: number[] = []
  const bends: SolvedBend[] = []
  const straights: number[] = []
  const directions: Vec3[] = []
  const normals: Vec3[] = []

  const last = points.length - 1
  let from = points[0]!
  // Leg in hand, from the last kept point to the next vertex: its length, and its unit direction in plain numbers.
  let leg = lengths[0]!
  let dx = (points[1]![0] - from[0]) / leg
  let dy = (points[1]![1] - from[1]) / leg
  let dz = (points[1]![2] - from[2]) / leg
  let nx = 0
  let ny = 0
  let nz = 0
  let tangentBefore = 0
  let developedLength = 0
  for (let k = 1; k < last; k++) {
    const here = points[k]!
    const there = points[k + 1]!
    const next = lengths[k]!
    const ex = (there[0] - here[0]) / next
    const ey = (there[1] - here[1]) / next
    const ez = (there[2] - here[2]) / next
    const cx = dy * ez - dz * ey
    const cy = dz * ex - dx * ez
    const cz = dx * ey - dy * ex
    const sine = Math.sqrt(cx * cx + cy * cy + cz * cz)
    const angleRad = Math.atan2(sine, dx * ex + dy * ey + dz * ez)
    if (angleRad < NO_BEND_DEG * DEG) {
      passedThrough.push(k)
      leg = apart(from, there)
      dx = (there[0] - from[0]) / leg
      dy = (there[1] - from[1]) / leg
      dz = (there[2] - from[2]) / leg
      continue
    }
    if (Math.PI - angleRad < NO_BEND_DEG * DEG) {
      return {
        ok: false,
        problem: problemAt('reversal', 'point', k, {
          found: say`a bend of ${(angleRad * toDeg).toFixed(6)}° at ${figure(here)}`,
          wanted: say`a bend below 180°: a tube cannot run back along itself`,
        }),
      }
    }
    const mx = cx / sine
    const my = cy / sine
    const mz = cz / sine
    let rotation: number | null = null
    if (bends.length > 0) {
      const s = (ny * mz - nz * my) * dx + (nz * mx - nx * mz) * dy + (nx * my - ny * mx) * dz
      const c = nx * mx + ny * my + nz * mz
      const r = Math.atan2(s, c) * toDeg
      rotation = r <= -180 + HALF_TURN_DEG ? 180 : r + 0
    }
    const angle = angleRad * toDeg
    const radius = radiusAt(clr, angle)
    if (!isRadius(radius)) return { ok: false, problem: badClr(radius) }
    const tangentLength = radius * Math.tan(angleRad / 2)
    const arcLength = radius * angleRad
    bends.push({
      vertex: k,
      vertexId: ids[k]!,
      angle,
      rotation,
      clr: radius,
      tangentLength,
      arcLength,
      gain: 2 * tangentLength - arcLength,
    })
    const straight = leg - tangentBefore - tangentLength
    straights.push(straight)
    developedLength += straight + arcLength
    directions.push([dx, dy, dz])
    normals.push([mx, my, mz])
    corners.push(here)
    from = here
    tangentBefore = tangentLength
    dx = ex
    dy = ey
    dz = ez
    leg = next
    nx = mx
    ny = my
    nz = mz
  }
  const straight = leg - tangentBefore
  straights.push(straight)
  developedLength += straight
  directions.push([dx, dy, dz])
  corners.push(points[last]!)
  return {
    ok: true,
    route: {
      points,
      pointIds: ids,
      straights,
      bends,
      passedThrough,
      developedLength,
      pieces: centreLine({ points: corners, straights, bends, directions, normals }),
    },
  }
}

/** From each point to the next, mm. */
function legLengths(points: readonly Vec3[]): number[] {
  const lengths: number[] = []
  for (let k = 0; k + 1 < points.length; k++) lengths.push(apart(points[k]!, points[k + 1]!))
  return lengths
}

/** distance() without the vector in between: this runs on every leg of every edit. */
function apart(a: Vec3, b: Vec3): number {
  const x = b[0] - a[0]
  const y = b[1] - a[1]
  const z = b[2] - a[2]
  return Math.sqrt(x * x + y * y + z * z)
}

function problemAt(
  code: RouteProblem['code'],
  place: RouteProblem['place'],
  at: number,
  said: { found: Sentence; wanted: Sentence },
): RouteProblem {
  const name = place === 'run' ? 'the route' : place === 'leg' ? `leg ${at + 1}` : `point ${at + 1}`
  const [found, wanted] = [inMm(said.found), inMm(said.wanted)]
  return { code, place, at, found, wanted, ...told(say`${name}: found ${said.found}; wanted ${said.wanted}`) }
}

const isRadius = (clr: number) => Number.isFinite(clr) && clr > 0

const badClr = (clr: number): RouteProblem =>
  problemAt('badClr', 'run', 0, {
    found: say`CLR ${everyDigit(clr)}`,
    wanted: say`a CLR above ${everyDigit(0)}`,
  })

function findProblem(
  points: readonly Vec3[],
  ids: readonly string[],
  clr: number | null,
  lengths: readonly number[],
): RouteProblem | null {
  if (ids.length !== points.length)
    throw new RangeError(`solveRoute: ${points.length} points but ${ids.length} ids`)
  if (clr !== null && !isRadius(clr)) return badClr(clr)
  if (points.length < 2)
    return problemAt('tooFewPoints', 'run', 0, {
      found: say`${String(points.length)} point${points.length === 1 ? '' : 's'}`,
      wanted: say`at least two points, end A and end B`,
    })
  for (let k = 0; k < points.length; k++)
    if (!isFiniteVec3(points[k]!))
      return problemAt('notFinite', 'point', k, {
        found: figure(points[k]!),
        wanted: say`three finite numbers`,
      })
  for (let k = 0; k + 1 < points.length; k++) {
    const l = lengths[k]!
    if (!(l >= COINCIDENT_MM && Number.isFinite(l)))
      return problemAt('coincidentPoints', 'leg', k, {
        found: say`points ${String(k + 1)} and ${String(k + 2)} ${everyDigit(l)} apart at ${figure(points[k]!)}`,
        wanted: say`at least ${everyDigit(COINCIDENT_MM)}, and a finite distance`,
      })
  }
  return null
}

/** The run's route points (end A, vertices, end B) and their ids ('A', vertex ids, 'B'); or the missing fitting. */
export function routePoints(
  document: SkidDocument,
  run: Run,
): { points: Vec3[]; ids: string[] } | { problem: RouteProblem } {
  const points: Vec3[] = []
  const ids: string[] = []
  for (const [id, end] of [
    ['A', run.endA],
    ['B', run.endB],
  ] as const) {
    const at = endPoint(document, end)
    if (!at)
      return {
        problem: problemAt('missingFitting', 'point', id === 'A' ? 0 : run.vertices.length + 1, {
          found: say`fitting "${end.kind === 'port' ? end.fitting : ''}" at end ${id}, which the document does not have`,
          wanted: say`a fitting of the document`,
        }),
      }
    points.push(at)
    ids.push(id)
    if (id === 'A')
      for (const v of run.vertices) {
        points.push(v.at)
        ids.push(v.id)
      }
  }
  return { points, ids }
}

/**
 * The run as its bender makes it: bends of the radius that comes out, insertions, stretch and cut length, mm. A route
 * problem is part of the answer, not thrown.
 *
 * @param springback taken instead of the bender's record, when trials of this tube say better.
 */
export function solveRun(document: SkidDocument, run: Run, springback: Springback | null = null): SolvedRun {
  const insertion = (end: Run['endA']) =>
    end.kind === 'port' ? (document.fittings.find(f => f.id === end.fitting)?.insertionDepth ?? 0) : 0
  const insertionA = insertion(run.endA)
  const insertionB = insertion(run.endB)
  const route = routePoints(document, run)
  const making = makingOf(document, run, springback)
  const result: RouteResult =
    'problem' in route
      ? { ok: false, problem: route.problem }
      : solveRoute(route.points, route.ids, making.clr)
  const stretch = result.ok ? result.route.bends.map(b => making.stretch(b.angle)) : []
  return {
    runId: run.id,
    tag: run.tag,
    route: result.ok ? result.route : null,
    problem: result.ok ? null : result.problem,
    insertionA,
    insertionB,
    trim: run.trimAllowance,
    stretch,
    cutLength: result.ok
      ? stretch.reduce(
          (length, s) => length - s,
          result.route.developedLength + insertionA + insertionB + run.trimAllowance,
        )
      : null,
  }
}

export const solveDocument = (document: SkidDocument): SolvedRun[] =>
  document.runs.map(run => solveRun(document, run))
