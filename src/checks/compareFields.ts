/** One place of a document whose value is another. `undefined`: the version has no such place. */
export interface FieldChange {
  /** Names of fields, ids of what has one, else places in a list. */
  readonly path: readonly string[]
  readonly before: unknown
  readonly after: unknown
}

/**
 * Every place in which two values differ, exactly; whatever their fields mean. Entries of a list that have an id are
 * matched by it, others by their place; entries in another order are a change of the list itself.
 */
export function compareFields(before: unknown, after: unknown, path: readonly string[] = []): FieldChange[] {
  if (before === after) return []
  if (isRecord(before) && isRecord(after))
    return [...new Set([...Object.keys(before), ...Object.keys(after)])].flatMap(name =>
      compareFields(before[name], after[name], [...path, name]),
    )
  if (!Array.isArray(before) || !Array.isArray(after))
    return meansTheSame(before, after) ? [] : [{ path, before, after }]
  const [was, is] = [byId(before), byId(after)]
  if (!was || !is)
    return Array.from({ length: Math.max(before.length, after.length) }, (_, i) => i).flatMap(i =>
      compareFields(before[i], after[i], [...path, placeIn(before, i)]),
    )
  const ids = [...new Set([...was.keys(), ...is.keys()])]
  const order = orderChange(
    [...was.keys()].filter(id => is.has(id)),
    [...is.keys()].filter(id => was.has(id)),
  )
  return [
    ...ids.flatMap(id => compareFields(was.get(id), is.get(id), [...path, id])),
    ...(order ? [{ path: [...path, 'order'], ...order }] : []),
  ]
}

/** What a person reads of a value that has no wording of its own; null for one that is not there. */
export function fieldText(value: unknown): string | null {
  if (value === undefined || value === null) return null
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return typeof value === 'string' ? value : JSON.stringify(value)
}

/** Characters of a long text that are shown of where two versions part. */
const SHOWN = 60

/** Both texts; of long ones what stands where they part, so that the difference is in sight. */
export function textsThatPart(before: unknown, after: unknown): [string | null, string | null] {
  const [a, b] = [fieldText(before), fieldText(after)]
  if (a === null || b === null || (a.length <= 2 * SHOWN && b.length <= 2 * SHOWN))
    return [short(a), short(b)]
  let at = 0
  while (at < Math.min(a.length, b.length) && a[at] === b[at]) at++
  const from = Math.max(0, at - SHOWN / 3)
  return [short(a, from), short(b, from)]
}

const short = (text: string | null, from = 0): string | null =>
  text === null || (from === 0 && text.length <= 2 * SHOWN)
    ? text
    : `${from > 0 ? '…' : ''}${text.slice(from, from + SHOWN)}${text.length > from + SHOWN ? '…' : ''}`

/** The place in words: `benderCard.maxAngle` is "bender card max angle". */
export const placeWords = (path: readonly string[]): string =>
  path.map(name => name.replace(/([a-z])([A-Z])/g, (_, a, b) => `${a} ${b.toLowerCase()}`)).join(' ')

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** A choice that is left out is one that was not taken. */
const meansTheSame = (a: unknown, b: unknown) => (a ?? false) === (b ?? false) && a !== null && b !== null

/** Entries by what they are known by; null when one has nothing of the kind, or two have the same. */
function byId(list: readonly unknown[]): ReadonlyMap<string, unknown> | null {
  const found = new Map<string, unknown>()
  for (const entry of list) {
    const id = isRecord(entry) ? (entry['id'] ?? entry['key'] ?? entry['finding']) : undefined
    if (typeof id !== 'string' || found.has(id)) return null
    found.set(id, entry)
  }
  return found
}

function placeIn(list: readonly unknown[], i: number): string {
  const isPoint = list.length === 3 && list.every(x => typeof x === 'number')
  return isPoint ? ('xyz'[i] ?? `${i + 1}`) : `${i + 1}`
}

function orderChange(was: readonly string[], is: readonly string[]) {
  const at = was.findIndex((id, i) => is[i] !== id)
  return at < 0 ? null : { before: `${was[at]} at place ${at + 1}`, after: `${is[at]} at place ${at + 1}` }
}
