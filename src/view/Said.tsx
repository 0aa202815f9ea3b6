import { inUnit, type Sentence } from '../document/sentence.ts'
import { useSession } from './useStore.ts'

/** A sentence with its lengths in the unit shown. */
export function Said({ sentence }: { readonly sentence: Sentence | undefined }) {
  const unit = useSession(s => s.unit)
  return sentence && inUnit(sentence, unit)
}
