import { inMm } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import type { SolvedRun } from '../solve/types.ts'
import { clearancePairs } from './clearance.ts'
import { createClearanceIndex } from './clearanceIndex.ts'
import { type ModelTrees, modelBodies } from './models/modelBodies.ts'
import { whyMissing } from './models/modelFindings.ts'

/** `within` of the clearance command when none is given, mm. */
export const DEFAULT_WITHIN = 100

export interface ClearanceReport {
  readonly within: number
  readonly pairs: readonly {
    /** Run tag. */
    readonly a: string
    /** Run tag, or name of the solid or mesh. */
    readonly b: string
    readonly clearance: number
    readonly errorBound: number
    readonly pointA: Vec3
    readonly pointB: Vec3
    readonly required: number
  }[]
  /** What has no outside to measure, by tag or name, and why. */
  readonly notChecked: readonly { readonly name: string; readonly reason: string }[]
}

/**
 * All pairs nearer than `within` (mm), nearest first, unrounded; clearance is negative where they overlap.
 *
 * @param models the trees of the document's model files, by `treesKey`, and why others are not there.
 * @throws RangeError when `within` is not a finite length ≥ 0.
 */
export function clearanceReport(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  within: number = DEFAULT_WITHIN,
  { trees, why }: { readonly trees: ModelTrees; readonly why?: ReadonlyMap<string, string> } = {
    trees: new Map(),
  },
): ClearanceReport {
  const { bodies: meshes, missing } = modelBodies(document, trees)
  const index = createClearanceIndex(within)
  index.update(document, solvedRuns, meshes)
  return {
    within,
    pairs: clearancePairs(index, document, meshes).map(
      ({ a, b, clearance, errorBound, pointA, pointB, required }) => ({
        a,
        b,
        clearance,
        errorBound,
        pointA,
        pointB,
        required,
      }),
    ),
    notChecked: [
      ...index.unmeasured().map(({ name, reason }) => ({ name, reason: inMm(reason) })),
      ...missing.map(model => ({ name: model.name, reason: whyMissing(model, why) })),
    ],
  }
}
