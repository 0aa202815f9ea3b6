import { everyDigit, type Sentence, say } from '../document/sentence.ts'
import type { Fitting, Run, Solid, SolidKind } from '../document/types.ts'
import type { Bounds } from '../geometry/boxTree.ts'
import type { Convex } from '../geometry/convex.ts'
import type { Swept } from '../geometry/swept.ts'
import { boundsOfTree, type TriangleTree } from '../geometry/triangleTree.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import type { SolvedRoute, SolvedRun } from '../solve/types.ts'
import { insulationCutBack } from './insulation.ts'
import { type PlacedTubes, placedTubes } from './models/placedTubes.ts'
import { type Placement, placedBounds, samePlacement } from './models/placement.ts'
import { type Outside, rodsOf } from './outside.ts'
import { NoShape, sameShape, shapeOfSolid } from './solidShape.ts'
import { type Stub, stubsOf } from './stubs.ts'

/** Something that takes up room: a run's tube or a solid. `key` is unique over both. */
export interface TubePart extends Bounds {
  readonly kind: 'run'
  readonly key: string
  readonly id: string
  readonly route: SolvedRoute
  /** Tube and insulation. */
  readonly outside: Outside
  /** The same as rods to be measured, in order from end A. */
  readonly rods: readonly Swept[]
  /** At each end in a port what is not measured against the body that the port stands on. */
  readonly stubs: readonly Stub[]
}
export interface SolidPart extends Bounds {
  readonly kind: 'solid'
  readonly key: string
  readonly id: string
  readonly solid: Solid
  readonly shape: Convex
  readonly fitting: string | null
}
export interface MeshPart extends Bounds {
  readonly kind: 'mesh'
  readonly key: string
  readonly id: string
  readonly tree: TriangleTree
  readonly fitting: string | null
  /** Brings tubes into the frame of the tree. */
  readonly placed: PlacedTubes
}
export type Part = TubePart | SolidPart | MeshPart

/** An imported body: its triangles in millimetres, and where their frame stands on the skid. */
export interface MeshBody {
  readonly id: string
  readonly name: string
  readonly kind: SolidKind
  /** The fitting whose body this is, as with a solid. */
  readonly fitting: string | null
  readonly tree: TriangleTree
  /** Left out: the triangles' frame is the skid's. */
  readonly placement?: Placement
}

/** Something whose clearance cannot be worked out, and why. */
export interface Unmeasured {
  readonly kind: 'run' | 'solid'
  readonly id: string
  readonly name: string
  /** Half a sentence. */
  readonly reason: Sentence
}

export const runKey = (id: string): string => `run:${id}`
export const meshKey = (id: string): string => `mesh:${id}`
export const solidKey = (id: string): string => `solid:${id}`

/** The run's outside as a part, `before` itself when its outside and stubs are the same, or why there is none. */
export function tubePart(
  run: Run,
  solved: SolvedRun | undefined,
  fittings: ReadonlyMap<string, Fitting>,
  before: Part | undefined,
): Part | Unmeasured {
  const refuse = (reason: Sentence): Unmeasured => ({ kind: 'run', id: run.id, name: run.tag, reason })
  const route = solved?.route
  if (!route) return refuse(solved?.problem?.sentence ?? say`the run is not solved`)
  const { od } = run.tube
  if (!(Number.isFinite(od) && od > 0))
    return refuse(say`found OD ${everyDigit(od)}, wanted a length above ${everyDigit(0)}`)
  const outside: Outside = {
    shapes: route.pieces,
    radius: od / 2,
    insulation: run.insulation,
    cutBack: insulationCutBack(run, fittings),
  }
  const stubs = stubsOf(run, route, fittings)
  if (before?.kind === 'run' && sameOutside(before, { outside, stubs, route })) return before
  const rods = rodsOf(outside)
  return { kind: 'run', key: runKey(run.id), id: run.id, route, outside, rods, stubs, ...boundsOfRods(rods) }
}

const boundsOfRods = (rods: readonly Swept[]): Bounds => ({
  low: ([0, 1, 2] as const).map(k => Math.min(...rods.map(r => r.low[k]))) as unknown as Vec3,
  high: ([0, 1, 2] as const).map(k => Math.max(...rods.map(r => r.high[k]))) as unknown as Vec3,
})

/** The solid as a part, `before` itself when its outside is the same, or why there is none. */
export function solidPart(solid: Solid, before: Part | undefined): Part | Unmeasured {
  if (before?.kind === 'solid' && before.fitting === solid.fitting && sameShape(before.solid, solid))
    return before
  try {
    const shape = shapeOfSolid(solid)
    return {
      kind: 'solid',
      key: solidKey(solid.id),
      id: solid.id,
      solid,
      shape,
      fitting: solid.fitting,
      low: shape.low,
      high: shape.high,
    }
  } catch (error) {
    if (!(error instanceof NoShape)) throw error
    return { kind: 'solid', id: solid.id, name: solid.name, reason: error.sentence }
  }
}

const AT_ORIGIN: Placement = { at: [0, 0, 0], turn: [0, 0, 0] }

/**
 * The mesh as a part, `before` itself when it is the very same tree in the same place. A mesh moved keeps its tree:
 * tubes are brought into its frame instead.
 *
 * @param tubesIn gives the one keeper of tubes for a placement, so that the parts of a model share it.
 */
export function meshPart(
  mesh: MeshBody,
  before: Part | undefined,
  tubesIn: (placement: Placement) => PlacedTubes = placedTubes,
): Part {
  const { tree, placement = AT_ORIGIN } = mesh
  if (
    before?.kind === 'mesh' &&
    before.tree === tree &&
    before.fitting === mesh.fitting &&
    samePlacement(before.placed.frame.placement, placement)
  )
    return before
  const placed = tubesIn(placement)
  return {
    kind: 'mesh',
    key: meshKey(mesh.id),
    id: mesh.id,
    tree,
    fitting: mesh.fitting,
    placed,
    ...placedBounds(boundsOfTree(tree), placed.frame),
  }
}

function sameOutside(
  before: TubePart,
  { outside, stubs, route }: Pick<TubePart, 'outside' | 'stubs' | 'route'>,
): boolean {
  const was = before.outside
  return (
    was.radius === outside.radius &&
    was.insulation === outside.insulation &&
    was.cutBack.every((c, k) => c === outside.cutBack[k]) &&
    before.stubs.length === stubs.length &&
    before.stubs.every((s, k) => sameStub(s, stubs[k]!)) &&
    sameCentreLine(before.route, route)
  )
}

const sameStub = (a: Stub, b: Stub): boolean =>
  a.end === b.end &&
  a.fitting === b.fitting &&
  a.length === b.length &&
  a.within === b.within &&
  a.face.every((x, k) => x === b.face[k])

function sameCentreLine(a: SolvedRoute, b: SolvedRoute): boolean {
  if (a === b) return true
  if (a.points.length !== b.points.length || a.bends.length !== b.bends.length) return false
  for (let i = 0; i < a.points.length; i++) {
    const [p, q] = [a.points[i]!, b.points[i]!]
    if (p[0] !== q[0] || p[1] !== q[1] || p[2] !== q[2]) return false
  }
  return a.bends.every((bend, i) => bend.clr === b.bends[i]!.clr && bend.vertex === b.bends[i]!.vertex)
}
