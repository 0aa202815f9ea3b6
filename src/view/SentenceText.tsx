import { lengthText, type Sentence } from '../document/sentence.ts'
import { useSession } from './useStore.ts'

/** A sentence with its lengths in the unit shown; a length is never parted at the end of a line. */
export function SentenceText({ sentence }: { readonly sentence: Sentence | undefined }) {
  const unit = useSession(s => s.unit)
  return sentence?.map((part, i) =>
    typeof part === 'string' ? (
      part
    ) : (
      // biome-ignore lint/suspicious/noArrayIndexKey: a sentence's parts keep their places
      <span key={i} className="unbroken">
        {lengthText(part, unit)}
      </span>
    ),
  )
}
