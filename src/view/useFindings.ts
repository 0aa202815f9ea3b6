import type { SkidDocument } from '../document/types.ts'
import { clearanceStore } from '../store/clearance.ts'
import { documentStore } from '../store/documentStore.ts'
import { type Findings, findingsOf } from '../store/findings.ts'
import { housingStore } from '../store/housing.ts'
import { useCalmly } from './useCalmly.ts'

/**
 * Findings of what is shown, with the document that they are about, kept up to date with the workers' answers. While a
 * point is dragged the lists may lag a few frames behind the picture: the picture does not wait for them.
 */
export function useFindings(): Findings & { readonly document: SkidDocument } {
  const document = useCalmly(documentStore, state => state.document)
  const clearance = useCalmly(clearanceStore, state => state)
  useCalmly(housingStore, state => state.answers)
  return { ...findingsOf(document, clearance), document }
}
