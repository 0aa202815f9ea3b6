import type { SkidDocument } from './types.ts'
import { visibleText } from './visibleText.ts'

/** Fields whose text is an id of something: they are compared, and not shown. */
const IDS: ReadonlySet<string> = new Set([
  'id',
  'fitting',
  'run',
  'bender',
  'finding',
  'key',
  'hidden',
  'hash',
])

/**
 * The same document to be read by a person, line by line: each text that it holds is on one line and hides nothing. A
 * document that is so already is given back itself.
 */
export const visibleNames = (document: SkidDocument): SkidDocument => visible(document) as SkidDocument

function visible(value: unknown): unknown {
  if (typeof value === 'string') return visibleText(value)
  if (typeof value !== 'object' || value === null) return value
  if (Array.isArray(value)) {
    const made = value.map(visible)
    return made.some((entry, i) => entry !== value[i]) ? made : value
  }
  const entries = Object.entries(value)
  const made = entries.map(([name, entry]) => (IDS.has(name) ? entry : visible(entry)))
  return made.some((entry, i) => entry !== entries[i]![1])
    ? Object.fromEntries(entries.map(([name], i) => [name, made[i]]))
    : value
}
