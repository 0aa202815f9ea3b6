import { type Length, type Sentence, say, told } from '../document/sentence.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type ClearancePair, clearancePairs } from './clearance.ts'
import { type ClearanceIndex, createClearanceIndex } from './clearanceIndex.ts'
import { SAME } from './partGap.ts'
import type { MeshBody, Unmeasured } from './parts.ts'
import { portFindings } from './portFindings.ts'
import { type Body, largestRequired } from './required.ts'

/** See `SAME`; the name that the checks know. mm */
export const SAME_GAP = SAME

/** Every clash and every gap that is too small, with a "not checked" for each run and solid that has no outside. */
export function clearanceFindings(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  meshes: readonly MeshBody[] = [],
): Finding[] {
  const index = createClearanceIndex(reachOfFindings(document, meshes))
  index.update(document, solvedRuns, meshes)
  return findingsOfIndex(index, document, meshes)
}

/** The `within` an index must have to answer for every finding of the document, mm. */
export const reachOfFindings = (document: SkidDocument, meshes: readonly Body[] = []): number =>
  Math.max(largestRequired(document, meshes), 0)

/**
 * The findings of an index brought up to `document`.
 *
 * @throws RangeError when the index does not reach as far as the document asks.
 */
export function findingsOfIndex(
  index: ClearanceIndex,
  document: SkidDocument,
  meshes: readonly MeshBody[] = [],
): Finding[] {
  const reach = reachOfFindings(document, meshes)
  if (index.within < reach)
    throw new RangeError(`clearance: found an index within ${index.within} mm, wanted at least ${reach} mm`)
  return [
    ...clearancePairs(index, document, meshes).flatMap(pair => findingOfPair(pair) ?? []),
    ...portFindings(document, meshes),
    ...index.unmeasured().map(notChecked),
  ]
}

/** The pair's finding, or null when its gap is what is asked for. Clash and too close are one identity. */
export function findingOfPair(pair: ClearancePair): Finding | null {
  const { clearance, required } = pair
  const clash = clearance < -SAME_GAP
  if (!clash && clearance >= required - SAME_GAP) return null
  const self = pair.kind === 'self'
  const rule = clash ? (self ? 'selfClash' : 'clash') : 'tooClose'
  const both = self ? [pair.aId, pair.aId] : [pair.aId, pair.bId].sort()
  return {
    id:
      pair.kind === 'solid' || pair.kind === 'mesh'
        ? `clearance:${pair.aId}:${pair.bId}`
        : `clearance:${both.join(':')}`,
    rule,
    severity: clash ? 'error' : 'warning',
    where: { run: pair.aId, kind: 'pair', index: null, other: pair.bId },
    measured: clearance,
    limit: clash ? 0 : required,
    unit: 'mm',
    ...told(sentenceOf(pair, clash)),
  }
}

const length = (mm: number, beside = mm): Length => ({ mm, beside: [beside], fixed: true })

function sentenceOf(pair: ClearancePair, clash: boolean): Sentence {
  const { a, b, clearance, required, placeA, placeB } = pair
  const on = ({ kind, index }: { kind: string; index: number }) => `${kind} ${index + 1}`
  const between =
    pair.kind === 'self'
      ? `${a}, ${on(placeA)}, and its own ${placeB ? on(placeB) : 'tube'}`
      : `${a}, ${on(placeA)}, and ${b}${placeB ? `, ${on(placeB)},` : ''}`
  const gap = Math.max(clearance, 0)
  return clash
    ? say`${between} overlap by ${length(-clearance)}.`
    : say`${between} are ${length(gap, required)} apart; ${length(required, gap)} required.`
}

const notChecked = ({ kind, id, name, reason }: Unmeasured): Finding => ({
  id: `clearance:notChecked:${id}`,
  rule: 'clearanceNotChecked',
  severity: 'notChecked',
  where:
    kind === 'run'
      ? { run: id, kind: 'run', index: null }
      : { run: null, kind: 'pair', index: null, other: id },
  measured: null,
  limit: null,
  unit: '',
  ...told(say`${name}: clearance not checked, ${reason}.`),
})
