import { inMm } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import type { SolvedRun } from '../solve/types.ts'
import { clearancePairs } from './clearance.ts'
import { findingOfPair, reachOfFindings } from './clearanceFindings.ts'
import { createClearanceIndex } from './clearanceIndex.ts'
import { type ModelTrees, modelBodies } from './models/modelBodies.ts'
import { whyMissing } from './models/modelFindings.ts'
import { portFindings } from './portFindings.ts'

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
    /** 0 against a body that a port of the run stands on, until the tube has left that port. */
    readonly required: number
    /** What its finding is: none, open, or accepted as it stands. */
    readonly state: 'fine' | 'open' | 'accepted'
    /** Set where stretches of the run are not measured, because its ports stand on the body. mm from the port's face */
    readonly exempt?: readonly { readonly end: 'A' | 'B'; readonly length: number }[]
  }[]
  /** Ports buried in a body, one sentence each, and whether that is accepted. */
  readonly ports: readonly { readonly message: string; readonly state: 'open' | 'accepted' }[]
  /** What has no outside to measure, by tag or name, and why. */
  readonly notChecked: readonly { readonly name: string; readonly reason: string }[]
}

/**
 * All pairs nearer than `within` (mm) and, whatever that is, all that are nearer than required; nearest first, unrounded;
 * clearance is negative where they overlap.
 *
 * @param models the trees of the document's model files, by `treesKey`, and why others are not there.
 * @param isAccepted whether somebody has decided to live with a finding as it stands.
 * @throws RangeError when `within` is not a finite length ≥ 0.
 */
export function clearanceReport(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  within: number = DEFAULT_WITHIN,
  { trees, why }: { readonly trees: ModelTrees; readonly why?: ReadonlyMap<string, string> } = {
    trees: new Map(),
  },
  isAccepted: (finding: Finding) => boolean = () => false,
): ClearanceReport {
  const { bodies: meshes, missing } = modelBodies(document, trees)
  if (!(Number.isFinite(within) && within >= 0))
    throw new RangeError(`clearance: found within ${within} mm, wanted a length of at least 0 mm`)
  const index = createClearanceIndex(Math.max(within, reachOfFindings(document, meshes)))
  index.update(document, solvedRuns, meshes)
  const stateOf = (finding: Finding): 'open' | 'accepted' => (isAccepted(finding) ? 'accepted' : 'open')
  const pairs = clearancePairs(index, document, meshes).flatMap(pair => {
    const finding = findingOfPair(pair)
    if (!finding && pair.clearance >= within) return []
    const { a, b, clearance, errorBound, pointA, pointB, required, exempt } = pair
    const state = finding ? stateOf(finding) : ('fine' as const)
    const listed = { a, b, clearance, errorBound, pointA, pointB, required, state }
    return [exempt.length > 0 ? { ...listed, exempt } : listed]
  })
  return {
    within,
    pairs,
    ports: portFindings(document, meshes).map(f => ({ message: f.message, state: stateOf(f) })),
    notChecked: [
      ...index.unmeasured().map(({ name, reason }) => ({ name, reason: inMm(reason) })),
      ...missing.map(model => ({ name: model.name, reason: whyMissing(model, why) })),
    ],
  }
}

/** Whether a gap or a port in the report still wants a decision. */
export const isOpenReport = ({ pairs, ports }: ClearanceReport): boolean =>
  [...pairs, ...ports].some(p => p.state === 'open')
