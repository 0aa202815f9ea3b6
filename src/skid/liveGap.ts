import type { Run, SkidDocument } from '../document/types.ts'
import { type Bounds, boundsMeet } from '../geometry/boxTree.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type MeshBody, tubePart } from './parts.ts'
import { gapTo, type Neighbour, partsOf } from './surroundings.ts'

/**
 * What a run that is being moved comes nearest to, as against what is asked for. Lengths mm. A body that one of its ports stands on
 * counts as in the check: without the port's stub, and for its gap once the tube has left the port.
 */
export interface LiveGap {
  /** Of the run, solid or body. */
  readonly id: string
  /** It is another stretch of the run itself. */
  readonly isSelf: boolean
  readonly name: string
  /** Negative when they overlap. */
  readonly gap: number
  readonly required: number
}

/**
 * Gives the function that measures a run, as it is moved, against everything else of the document, which stays: the
 * one place where the gap exceeds what is asked for by least (or falls short of it by most), null when it exceeds it
 * by more than `reach` mm everywhere or the run has no route. The others' outsides are made once, when first near.
 */
export function liveGaps(
  document: SkidDocument,
  runId: string,
  meshes: readonly MeshBody[],
  reach: number,
): (run: Run, solved: SolvedRun) => LiveGap | null {
  const parts = partsOf(document, meshes)
  let around: readonly Neighbour[] = []
  let covered: Bounds | null = null
  return (run, solved) => {
    const tube = tubePart(run, solved, parts.fittings, undefined)
    if (run.id !== runId || !('key' in tube) || tube.kind !== 'run') return null
    if (!covered || !isWithin(tube, covered)) {
      around = parts.around(run, tube, 2 * reach)
      covered = grown(tube, reach)
    }
    let least: LiveGap | null = null
    let margin = reach
    const near = around.filter(n => !n.part || boundsMeet(tube, n.part, n.required + reach))
    // The own tube last: it is the dearest to measure and mostly the farthest.
    near.sort((a, b) => (a.part ? 0 : 1) - (b.part ? 0 : 1))
    for (const n of near) {
      const limit = n.required + margin
      const found = gapTo(tube, n, limit)
      if (!found || found.gap - n.required >= margin) continue
      margin = found.gap - n.required
      least = { id: n.id, isSelf: n.part === null, name: n.name, gap: found.gap, required: n.required }
    }
    return least
  }
}

const isWithin = (a: Bounds, b: Bounds): boolean =>
  a.low.every((l, k) => l >= b.low[k]!) && a.high.every((h, k) => h <= b.high[k]!)

const grown = ({ low, high }: Bounds, by: number): Bounds => ({
  low: [low[0] - by, low[1] - by, low[2] - by],
  high: [high[0] + by, high[1] + by, high[2] + by],
})
