import type { Run, SkidDocument } from '../../document/types.ts'
import { boundsMeet } from '../../geometry/boxTree.ts'
import { sweptConvexGap } from '../../geometry/sweptConvexGap.ts'
import { type Gap, selfGap, sweptGap } from '../../geometry/sweptGap.ts'
import { type MeshBody, meshPart, type Part, solidPart, type TubePart, tubePart } from '../../skid/parts.ts'
import { isOwnFitting, requiredClearance } from '../../skid/required.ts'
import { tubePlacedMeshGap } from '../../skid/tubeMeshGap.ts'
import { solveRun } from '../../solve/solveRun.ts'
import type { Finding } from '../finding.ts'

/** Farthest that a mend moves anything, mm. */
export const MEND_REACH = 200

/** Something a run must keep away from, and by how much (mm, insulation included). */
export interface Neighbour {
  readonly id: string
  readonly name: string
  /** Null: the run itself. */
  readonly part: Part | null
  readonly required: number
  /** What one measurement against it costs, in measurements against a tube. */
  readonly effort: number
}

const MESH_EFFORT = 10

/** Outsides of a document, made when first asked for and kept. */
export function partsOf(document: SkidDocument, meshes: readonly MeshBody[]) {
  const made = new Map<string, Part | null>()
  const once = (key: string, make: () => Part | { readonly reason: string }): Part | null => {
    const known = made.get(key)
    if (known !== undefined) return known
    const part = make()
    const usable = 'key' in part ? part : null
    made.set(key, usable)
    return usable
  }
  const tubeOf = (run: Run): TubePart | null => {
    const part = once(`run ${run.id}`, () => tubePart(run, solveRun(document, run), undefined))
    return part?.kind === 'run' ? part : null
  }
  return {
    tubeOf,
    /** All that `run` must keep away from and could come near when it grows by `reach` mm all round. */
    around(run: Run, reach: number): Neighbour[] {
      const own = tubeOf(run)
      if (!own) return []
      const near: Neighbour[] = [
        {
          id: run.id,
          name: run.tag,
          part: null,
          required: requiredClearance(document, run, run),
          effort: 1,
        },
      ]
      const offer = (part: Part | null, name: string, required: number, effort: number) => {
        if (part && boundsMeet(own, part, reach + required))
          near.push({ id: part.id, name, part, required, effort })
      }
      for (const other of document.runs)
        if (other !== run) offer(tubeOf(other), other.tag, requiredClearance(document, run, other), 1)
      for (const solid of document.solids)
        if (!isOwnFitting(run, solid))
          offer(
            once(`solid ${solid.id}`, () => solidPart(solid, undefined)),
            solid.name,
            requiredClearance(document, run, solid),
            1,
          )
      for (const mesh of meshes)
        if (!isOwnFitting(run, mesh))
          offer(
            once(`mesh ${mesh.id}`, () => meshPart(mesh, undefined)),
            mesh.name,
            requiredClearance(document, run, mesh),
            MESH_EFFORT,
          )
      return near
    },
  }
}

/** Least gap between a tube (its `pointA`) and a neighbour below `limit`, mm, or null; to the last digit the check's own. */
export function gapTo(tube: TubePart, { part }: Pick<Neighbour, 'part'>, limit: number): Gap | null {
  if (!part) return selfGap(tube.swept, limit)
  if (!boundsMeet(tube, part, limit)) return null
  switch (part.kind) {
    case 'run': {
      if (tube.key < part.key) return sweptGap(tube.swept, part.swept, limit)
      const gap = sweptGap(part.swept, tube.swept, limit)
      return gap && { ...gap, pointA: gap.pointB, pointB: gap.pointA, shapeA: gap.shapeB, shapeB: gap.shapeA }
    }
    case 'solid':
      return sweptConvexGap(tube.swept, part.shape, limit)
    case 'mesh':
      return tubePlacedMeshGap(tube.swept, part, limit)
  }
}

/** The bodies that a mend of the finding can come near: what else there is need not be handed to a worker. */
export function bodiesNear(
  document: SkidDocument,
  { where }: Pick<Finding, 'where'>,
  bodies: readonly MeshBody[],
): MeshBody[] {
  const parts = partsOf(document, bodies)
  const near = [where.run, where.other].flatMap(id => {
    const run = document.runs.find(r => r.id === id)
    return run ? parts.around(run, MEND_REACH).map(n => n.id) : []
  })
  return bodies.filter(b => near.includes(b.id))
}
