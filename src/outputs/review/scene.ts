import type { Run, SkidDocument, Solid } from '../../document/types.ts'
import { type Bounds, boundsMeet } from '../../geometry/boxTree.ts'
import { boundsOfTree, type TriangleTree } from '../../geometry/triangleTree.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import { type PlacedFrame, type Placement, placedBounds, placedFrame } from '../../skid/models/placement.ts'
import type { MeshBody } from '../../skid/parts.ts'
import { shapeOfSolid } from '../../skid/solidShape.ts'
import type { SolvedRoute, SolvedRun } from '../../solve/types.ts'

/** Something that a picture shows, with bounds that hold it, mm; those of a half space are infinite. */
export type Thing = Bounds & { readonly id: string; readonly name: string } & (
    | { readonly kind: 'tube'; readonly run: Run; readonly route: SolvedRoute }
    | { readonly kind: 'solid'; readonly solid: Solid }
    | { readonly kind: 'mesh'; readonly tree: TriangleTree; readonly frame: PlacedFrame }
  )

export interface Scene {
  readonly things: readonly Thing[]
  readonly byId: ReadonlyMap<string, Thing>
}

const AT_ORIGIN: Placement = { at: [0, 0, 0], turn: [0, 0, 0] }

/** All that has an outside to draw. What has none is named by the checks, not here. */
export function sceneOf(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  meshes: readonly MeshBody[],
): Scene {
  const things: Thing[] = []
  const runs = new Map(document.runs.map(r => [r.id, r]))
  for (const { runId, route } of solvedRuns) {
    const run = runs.get(runId)
    if (!route || !run) continue
    // A bend stays inside the triangle of its vertex and tangent points, so the route's points bound the centre line.
    const grown = (sign: 1 | -1): Vec3 => {
      const worst = sign > 0 ? Math.max : Math.min
      const side = (k: 0 | 1 | 2) => worst(...route.points.map(p => p[k])) + (sign * run.tube.od) / 2
      return [side(0), side(1), side(2)]
    }
    things.push({ kind: 'tube', id: runId, name: run.tag, run, route, low: grown(-1), high: grown(1) })
  }
  for (const solid of document.solids) {
    try {
      const { low, high } = shapeOfSolid(solid)
      things.push({ kind: 'solid', id: solid.id, name: solid.name, solid, low, high })
    } catch (error) {
      if (!(error instanceof RangeError)) throw error
    }
  }
  for (const { id, name, tree, placement = AT_ORIGIN } of meshes) {
    const frame = placedFrame(placement)
    things.push({ kind: 'mesh', id, name, tree, frame, ...placedBounds(boundsOfTree(tree), frame) })
  }
  return { things, byId: new Map(things.map(t => [t.id, t])) }
}

/** The things whose bounds come within `radius` (mm, along each axis) of a point. */
export function thingsNear({ things }: Scene, at: Vec3, radius: number): Thing[] {
  const here: Bounds = { low: at, high: at }
  return things.filter(t => boundsMeet(t, here, radius))
}
