import { type LengthUnit, parseLength } from '../../document/quantity.ts'

export type FieldName = 'x' | 'y' | 'z' | 'by' | 'leg'
/** mm by field. */
export type TypedLengths = Readonly<Partial<Record<FieldName, number>>>

/** Lengths typed while a point is dragged. Immutable: every key gives the next state. */
export interface TypedFields {
  readonly names: readonly FieldName[]
  readonly active: number
  /** What stands in the active field and is not taken yet. */
  readonly text: string
  /** Once taken. */
  readonly taken: TypedLengths
  /** Why the last text was refused, or ''. */
  readonly refused: string
}

export const typedFields = (names: readonly FieldName[]): TypedFields => ({
  names,
  active: 0,
  text: '',
  taken: {},
  refused: '',
})

const STARTS = /^[-+0-9.(]$/
const GOES_ON = /^[-+*/().0-9 a-zA-Z'"]$/

/**
 * The state after a key; `done` on an Enter that was taken, null for a key that is none of its business.
 * A semicolon takes the text and goes to the next field; Backspace takes back, from an empty field into the one before;
 * a text that is no length is refused with the reason and stays.
 */
export function pressKey(
  fields: TypedFields,
  key: string,
  unit: LengthUnit,
): { fields: TypedFields; done: boolean } | null {
  if (key === 'Enter') {
    const taken = take(fields, unit)
    return { fields: taken, done: taken.refused === '' }
  }
  if (key === ';') {
    const taken = take(fields, unit)
    if (taken.refused) return { fields: taken, done: false }
    return { fields: { ...taken, active: (fields.active + 1) % fields.names.length }, done: false }
  }
  if (key === 'Backspace') {
    if (fields.text)
      return { fields: { ...fields, text: fields.text.slice(0, -1), refused: '' }, done: false }
    const own = fields.names[fields.active]!
    const isSet = fields.taken[own] !== undefined
    const active = isSet ? fields.active : Math.max(0, fields.active - 1)
    const { [fields.names[active]!]: _, ...taken } = fields.taken
    return { fields: { ...fields, active, taken, refused: '' }, done: false }
  }
  if ((fields.text === '' ? STARTS : GOES_ON).test(key))
    return { fields: { ...fields, text: fields.text + key, refused: '' }, done: false }
  return null
}

/** The lengths taken, with the one being typed as far as it can be read: what the drag shows meanwhile. */
export const soFar = (fields: TypedFields, unit: LengthUnit): TypedLengths => take(fields, unit).taken

function take(fields: TypedFields, unit: LengthUnit): TypedFields {
  if (fields.text.trim() === '') return { ...fields, text: '', refused: '' }
  const parsed = parseLength(fields.text, unit)
  if (!parsed.ok) return { ...fields, refused: parsed.reason }
  const name = fields.names[fields.active]!
  return { ...fields, text: '', refused: '', taken: { ...fields.taken, [name]: parsed.mm } }
}
