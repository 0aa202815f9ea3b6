import type { OpenCascadeInstance, TopoDS_Shape } from 'replicad-opencascadejs'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { type ClearancePair, clearances } from '../../src/skid/clearance.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { sweptSolid } from '../cadKernel.ts'
import { seeded } from '../random.ts'
import { cadDistance, cadSolid } from './cadDistance.ts'
import { randomPlace, randomRun, randomSolid } from './randomScene.ts'

export interface ComparedPair {
  readonly kind: 'run' | 'solid'
  readonly ours: ClearancePair
  /** mm ≥ 0, 0 when the kernel finds an overlap. */
  readonly cad: number
  readonly cadMs: number
  /** How far our two nearest points are from the kernel's own solids, mm: on them they prove our distance attained. */
  readonly pointsOff: number
}

/** What a pair shows: 'agree', 'kernelMissed' (the kernel confirms our nearer points) or what is wrong with us. */
export function verdict({ ours, cad, pointsOff }: ComparedPair): string {
  const { clearance, errorBound } = ours
  if (!(errorBound <= 0.01)) return `error bound ${errorBound}`
  // The kernel gives 0 for every overlap, so there only the sign can be compared.
  if (cad < 1e-6)
    return clearance <= errorBound ? 'agree' : `optimistic: ${clearance}, the kernel finds an overlap`
  if (clearance > cad + errorBound) return `optimistic: ${clearance}, the kernel ${cad}`
  if (clearance >= cad - errorBound - 1e-6) return 'agree'
  // Points that far off its solids prove a distance of at most ours and twice that.
  return 2 * pointsOff <= errorBound
    ? 'kernelMissed'
    : `too near: ${clearance}, the kernel ${cad}, points off by ${pointsOff}`
}

/** `count` random pairs, every other one run to run and run to solid, measured by us and by the CAD kernel. */
export function* comparePairs(oc: OpenCascadeInstance, seed: number, count: number): Iterable<ComparedPair> {
  const random = seeded(seed)
  for (let k = 0; k < count; k++) {
    const kind = k % 2 === 0 ? 'run' : 'solid'
    const run = randomRun(random, 'a', [0, 0, 0], random.whole(0, 4))
    const document: SkidDocument = {
      ...emptyDocument('Pair, invented'),
      runs:
        kind === 'run' ? [run, randomRun(random, 'b', randomPlace(random, 250), random.whole(0, 4))] : [run],
      solids: kind === 'solid' ? [randomSolid(random, 'b', randomPlace(random, 250))] : [],
    }
    const solved = solveDocument(document)
    const ours = clearances(document, solved, { within: 1e6 }).find(p => p.kind === kind)
    if (!ours) throw new Error(`comparePairs: pair ${k} of seed ${seed} has no clearance`)
    const shapes: TopoDS_Shape[] = [
      ...document.runs.map((r, i) => sweptSolid(oc, solved[i]!.route!.pieces, r.tube.od).solid),
      ...document.solids.map(s => cadSolid(oc, s)),
    ]
    const start = performance.now()
    const cad = cadDistance(oc, shapes[0]!, shapes[1]!)
    const cadMs = performance.now() - start
    const pointsOff = Math.max(
      ...[ours.pointA, ours.pointB].map((p, i) => {
        const vertex = new oc.BRepBuilderAPI_MakeVertex(new oc.gp_Pnt(p[0], p[1], p[2])).Vertex()
        return cadDistance(oc, vertex, shapes[i]!)
      }),
    )
    for (const shape of shapes) shape.delete()
    yield { kind, ours, cad, cadMs, pointsOff }
  }
}
