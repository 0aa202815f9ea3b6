import { everyDigit, type Sentence, say } from '../document/sentence.ts'
import type { Run, Solid, SolidKind } from '../document/types.ts'
import type { Bounds } from '../geometry/boxTree.ts'
import type { Convex } from '../geometry/convex.ts'
import { type Swept, sweep } from '../geometry/swept.ts'
import { boundsOfTree, type TriangleTree } from '../geometry/triangleTree.ts'
import type { SolvedRoute, SolvedRun } from '../solve/types.ts'
import { type PlacedTubes, placedTubes } from './models/placedTubes.ts'
import { type Placement, placedBounds, samePlacement } from './models/placement.ts'
import { NoShape, sameShape, shapeOfSolid } from './solidShape.ts'

/** Something that takes up room: a run's tube or a solid. `key` is unique over both. */
export interface TubePart extends Bounds {
  readonly kind: 'run'
  readonly key: string
  readonly id: string
  readonly route: SolvedRoute
  readonly od: number
  readonly swept: Swept
}
export interface SolidPart extends Bounds {
  readonly kind: 'solid'
  readonly key: string
  readonly id: string
  readonly solid: Solid
  readonly shape: Convex
}
export interface MeshPart extends Bounds {
  readonly kind: 'mesh'
  readonly key: string
  readonly id: string
  readonly tree: TriangleTree
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

/** The run's tube as a part, `before` itself when its outside is the same, or why there is none. */
export function tubePart(
  run: Run,
  solved: SolvedRun | undefined,
  before: Part | undefined,
): Part | Unmeasured {
  const refuse = (reason: Sentence): Unmeasured => ({ kind: 'run', id: run.id, name: run.tag, reason })
  const route = solved?.route
  if (!route) return refuse(solved?.problem?.sentence ?? say`the run is not solved`)
  const { od } = run.tube
  if (!(Number.isFinite(od) && od > 0))
    return refuse(say`found OD ${everyDigit(od)}, wanted a length above ${everyDigit(0)}`)
  if (before?.kind === 'run' && before.od === od && sameCentreLine(before.route, route)) return before
  const swept = sweep(route.pieces, od / 2)
  return { kind: 'run', key: runKey(run.id), id: run.id, route, od, swept, low: swept.low, high: swept.high }
}

/** The solid as a part, `before` itself when its outside is the same, or why there is none. */
export function solidPart(solid: Solid, before: Part | undefined): Part | Unmeasured {
  if (before?.kind === 'solid' && sameShape(before.solid, solid)) return before
  try {
    const shape = shapeOfSolid(solid)
    return {
      kind: 'solid',
      key: solidKey(solid.id),
      id: solid.id,
      solid,
      shape,
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
    samePlacement(before.placed.frame.placement, placement)
  )
    return before
  const placed = tubesIn(placement)
  return {
    kind: 'mesh',
    key: meshKey(mesh.id),
    id: mesh.id,
    tree,
    placed,
    ...placedBounds(boundsOfTree(tree), placed.frame),
  }
}

function sameCentreLine(a: SolvedRoute, b: SolvedRoute): boolean {
  if (a === b) return true
  if (a.points.length !== b.points.length || a.bends.length !== b.bends.length) return false
  for (let i = 0; i < a.points.length; i++) {
    const [p, q] = [a.points[i]!, b.points[i]!]
    if (p[0] !== q[0] || p[1] !== q[1] || p[2] !== q[2]) return false
  }
  return a.bends.every((bend, i) => bend.clr === b.bends[i]!.clr && bend.vertex === b.bends[i]!.vertex)
}
