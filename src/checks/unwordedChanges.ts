import type { Change } from './change.ts'
import { compareFields, type FieldChange, placeWords, textsThatPart } from './compareFields.ts'

/** Fields whose change is worded by other values than its own: the words that then stand for it. */
export type WordedFields = readonly (readonly [field: RegExp, words: RegExp])[]

/**
 * What differs between two parts and is not among the changes that have words of their own, exactly and by its place:
 * so that nothing of a document can be different and not be listed.
 *
 * @param worded changes that are listed already. One stands for a field when it has the field's own values, or by
 *   `fields`.
 */
export function unwordedChanges(
  before: unknown,
  after: unknown,
  worded: readonly Change[],
  fields: WordedFields,
): Change[] {
  const left = [...worded]
  const isWorded = ({ path, before: a, after: b }: FieldChange): boolean => {
    const at = left.findIndex(c => c.before === (a ?? null) && c.after === (b ?? null))
    if (at >= 0) {
      left.splice(at, 1)
      return true
    }
    const place = path.join('.')
    return fields.some(([field, words]) => field.test(place) && worded.some(c => words.test(c.what)))
  }
  return compareFields(before, after)
    .filter(field => !isWorded(field))
    .map(({ path, before: a, after: b }): Change => {
      const [was, is] = textsThatPart(a, b)
      return { what: placeWords(path), before: was, after: is, unit: '' }
    })
}
