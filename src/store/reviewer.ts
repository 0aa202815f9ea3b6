import { browserMemory } from './browserMemory.ts'

const NAME = 'dogleg-reviewer'

/** The name that was given last where something is signed: a decision, a saved view. '' before the first. */
export const reviewerName = (): string => browserMemory.text(NAME) ?? ''

/** Null, or why the browser does not keep the name for the next visit. */
export const keepReviewerName = (name: string): string | null => browserMemory.keepText(NAME, name.trim())
