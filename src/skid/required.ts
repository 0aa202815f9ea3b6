import type { Run, SkidDocument, Solid } from '../document/types.ts'

/** What a tube can come near besides a tube: a solid of the document or an imported mesh. */
export type Body = Pick<Solid, 'id' | 'name' | 'kind' | 'fitting'>

/**
 * Gap that the document asks for between two outsides, mm: the figure of what the tube comes near, and the insulation
 * of every run that takes part, because insulation lies outside the tubes whose outsides are measured.
 */
export function requiredClearance(document: SkidDocument, run: Run, other: Run | Body): number {
  return 'tube' in other
    ? document.clearances.tube + run.insulation + other.insulation
    : document.clearances[other.kind] + run.insulation
}

/** The largest gap that any pair of the document can be asked for, mm: pairs further apart need no look. */
export function largestRequired(document: SkidDocument, meshes: readonly Body[] = []): number {
  const insulation = document.runs.map(r => r.insulation).sort((a, b) => b - a)
  const thickest = insulation[0] ?? 0
  return Math.max(
    document.clearances.tube + 2 * thickest,
    ...[...document.solids, ...meshes].map(s => document.clearances[s.kind] + thickest),
  )
}

/** True when the solid is the body of a fitting the run ends in: touching it is what the run is for. */
export const isOwnFitting = (run: Run, solid: Body): boolean =>
  solid.fitting !== null &&
  [run.endA, run.endB].some(end => end.kind === 'port' && end.fitting === solid.fitting)
