import { tooLarge } from '../../document/sizeLimits.ts'
import type { SkidDocument } from '../../document/types.ts'
import { documentStore } from '../../store/documentStore.ts'

/** Why an edit cannot be done, as a sentence for the person who typed it. */
export interface Refusal {
  readonly refused: string
}
/** From the settled document to the next one, or the reason why not. */
export type Edit = (settled: SkidDocument) => SkidDocument | Refusal

/** Does the edit as one undoable step. Gives null, or the reason why nothing was changed. */
export function applyEdit(label: string, edit: Edit): string | null {
  const { settled, apply, cancel } = documentStore.getState()
  const answer = attempt(edit, settled)
  if ('refused' in answer) {
    cancel()
    return answer.refused
  }
  apply(label, () => answer)
  return null
}

/** Shows the edit without making it history. Gives null, or the reason; then what was shown before stays. */
export function previewEdit(edit: Edit): string | null {
  const { settled, preview } = documentStore.getState()
  const answer = attempt(edit, settled)
  if ('refused' in answer) return answer.refused
  preview(() => answer)
  return null
}

function attempt(edit: Edit, settled: SkidDocument): SkidDocument | Refusal {
  try {
    const answer = edit(settled)
    const reason = 'refused' in answer ? null : tooLarge(settled, answer)
    return reason === null ? answer : { refused: reason }
  } catch (error) {
    return { refused: error instanceof Error ? error.message : String(error) }
  }
}
