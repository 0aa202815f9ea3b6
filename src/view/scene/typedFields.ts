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
 * Tab takes the text and goes to the next field (Shift: the one before), Backspace takes back, a text that is no
 * length is refused with the reason and stays.
 */
export function pressKey(
  fields: TypedFields,
  key: string,
  shift: boolean,
  unit: LengthUnit,
): { fields: TypedFields; done: boolean } | null {
  if (key === 'Enter') {
    const taken = take(fields, unit)
    return { fields: taken, done: taken.refused === '' }
  }
  if (key === 'Tab') {
    const taken = take(fields, unit)
    if (taken.refused) return { fields: taken, done: false }
    const n = fields.names.length
    return { fields: { ...taken, active: (fields.active + (shift ? n - 1 : 1)) % n }, done: false }
  }
  if (key === 'Backspace') {
    if (fields.text)
      return { fields: { ...fields, text: fields.text.slice(0, -1), refused: '' }, done: false }
    const { [fields.names[fields.active]!]: _, ...taken } = fields.taken
    return { fields: { ...fields, taken, refused: '' }, done: false }
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
