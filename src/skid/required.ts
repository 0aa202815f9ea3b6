import type { Run, SkidDocument, Solid } from '../document/types.ts'

/** What a tube can come near besides a tube: a solid of the document or an imported mesh. */
export type Body = Pick<Solid, 'id' | 'name' | 'kind' | 'fitting'>

/** Gap that the document asks for between two outsides, insulation being outside, mm: by what the tube comes near. */
export const requiredClearance = ({ clearances }: SkidDocument, other: Run | Body): number =>
  'tube' in other ? clearances.tube : clearances[other.kind]

/** The largest gap that any pair of the document can be asked for, mm: pairs further apart need no look. */
export function largestRequired(document: SkidDocument, meshes: readonly Body[] = []): number {
  return Math.max(
    document.clearances.tube,
    ...[...document.solids, ...meshes].map(s => document.clearances[s.kind]),
  )
}
