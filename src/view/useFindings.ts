import { useStore } from 'zustand'
import { clearanceStore } from '../store/clearance.ts'
import { type Findings, findingsOf } from '../store/findings.ts'
import { housingStore } from '../store/housing.ts'
import { useShown } from './useStore.ts'

/** Findings of what is shown, kept up to date with the clearance answers of the worker. */
export function useFindings(): Findings {
  const document = useShown()
  const clearance = useStore(clearanceStore)
  useStore(housingStore)
  return findingsOf(document, clearance)
}
