import { fittingsById } from '../document/lookUp.ts'
import type { Run, SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { boundsMeet } from '../geometry/boxTree.ts'
import type { Gap } from '../geometry/sweptGap.ts'
import { solveRun } from '../solve/solveRun.ts'
import { judgedGap } from './partGap.ts'
import {
  type MeshBody,
  meshPart,
  type Part,
  solidPart,
  type TubePart,
  tubePart,
  type Unmeasured,
} from './parts.ts'
import { requiredClearance } from './required.ts'

/** Something a run must keep away from, and by how much (mm). */
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
  const fittings = fittingsById(document.fittings)
  const made = new Map<string, Part | null>()
  const once = (key: string, make: () => Part | Unmeasured): Part | null => {
    const known = made.get(key)
    if (known !== undefined) return known
    const part = make()
    const usable = 'key' in part ? part : null
    made.set(key, usable)
    return usable
  }
  const tubeOf = (run: Run): TubePart | null => {
    const part = once(`run ${run.id}`, () => tubePart(run, solveRun(document, run), fittings, undefined))
    return part?.kind === 'run' ? part : null
  }
  /** All that a run with this outside must keep away from and could come near when it grows by `reach` mm all round. */
  const around = (run: Run, own: TubePart, reach: number): Neighbour[] => {
    const near: Neighbour[] = [
      {
        id: run.id,
        name: run.tag,
        part: null,
        required: requiredClearance(document, run),
        effort: 1,
      },
    ]
    const offer = (part: Part | null, name: string, required: number, effort: number) => {
      if (part && boundsMeet(own, part, reach + required))
        near.push({ id: part.id, name, part, required, effort })
    }
    for (const other of document.runs)
      if (other.id !== run.id) offer(tubeOf(other), other.tag, requiredClearance(document, other), 1)
    for (const solid of document.solids)
      offer(
        once(`solid ${solid.id}`, () => solidPart(solid, undefined)),
        solid.name,
        requiredClearance(document, solid),
        1,
      )
    for (const mesh of meshes)
      offer(
        once(`mesh ${mesh.id}`, () => meshPart(mesh, undefined)),
        mesh.name,
        requiredClearance(document, mesh),
        MESH_EFFORT,
      )
    return near
  }
  return { tubeOf, around, fittings }
}

/**
 * What of the gap between a tube (its `pointA`) and a neighbour counts against what is required, below `limit`, mm, or null: to the
 * last digit the check's own.
 */
export function gapTo(
  tube: TubePart,
  { part, required }: Pick<Neighbour, 'part' | 'required'>,
  limit: number,
): Gap | null {
  if (!part) return judgedGap(tube, tube, required, limit)
  return boundsMeet(tube, part, limit) ? judgedGap(tube, part, required, limit) : null
}

/** The bodies that come near a run of the finding when it grows by `reach` mm all round. */
export function bodiesNear(
  document: SkidDocument,
  { where }: Pick<Finding, 'where'>,
  bodies: readonly MeshBody[],
  reach: number,
): MeshBody[] {
  const parts = partsOf(document, bodies)
  const near = [where.run, where.other].flatMap(id => {
    const run = document.runs.find(r => r.id === id)
    const tube = run && parts.tubeOf(run)
    return run && tube ? parts.around(run, tube, reach).map(n => n.id) : []
  })
  return bodies.filter(b => near.includes(b.id))
}
