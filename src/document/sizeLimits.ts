import type { SkidDocument } from './types.ts'

/** Nothing on a skid is longer, and no coordinate lies farther from the origin: 1 km, mm. */
export const LARGEST_LENGTH = 1_000_000
/** No tube is thicker, its wall and its insulation neither: 1 m, mm. */
export const LARGEST_TUBE = 1_000

export const LARGEST_LENGTH_WORDS = '1 km (1 000 000 mm)'
export const LARGEST_TUBE_WORDS = '1 m (1000 mm)'

const TUBE_FIELDS = new Set(['od', 'wall', 'insulation', 'tubeOd'])
/** Fields that hold no lengths: directions, angles, counts, figures of findings. */
const OTHER_FIELDS = new Set([
  'version',
  'axis',
  'normal',
  'turn',
  'outward',
  'yaw',
  'pitch',
  'offset',
  'perDegree',
  'range',
  'maxAngle',
  'quantity',
  'bytes',
  'unitMm',
  'measured',
  'limit',
])

/**
 * Why `after` cannot be a skid, as a sentence that names the part, what was found and what was wanted; null when its
 * sizes are within bounds. Only what is another object than in `before` is looked at.
 */
export function tooLarge(before: SkidDocument, after: SkidDocument): string | null {
  for (const [list, now] of Object.entries(after)) {
    const was: unknown = before[list as keyof SkidDocument]
    if (now === was) continue
    if (!Array.isArray(now)) {
      const found = largeIn(now, list)
      if (found) return sentence('The skid', found)
      continue
    }
    const known = new Set<unknown>(Array.isArray(was) ? was : [])
    for (const entry of now as readonly object[]) {
      const found = known.has(entry) ? null : largeIn(entry, '')
      if (found) return sentence(nameOf(entry), found)
    }
  }
  return null
}

interface Large {
  readonly value: number
  readonly field: string
}

function largeIn(value: unknown, field: string): Large | null {
  if (OTHER_FIELDS.has(field)) return null
  if (typeof value === 'number') {
    // A number that is none comes from a figure past all bounds.
    const isGood = Math.abs(value) <= (TUBE_FIELDS.has(field) ? LARGEST_TUBE : LARGEST_LENGTH)
    return isGood ? null : { value, field }
  }
  if (typeof value !== 'object' || value === null) return null
  for (const [name, entry] of Object.entries(value)) {
    const found = largeIn(entry, Array.isArray(value) ? field : name)
    if (found) return found
  }
  return null
}

function sentence(name: string, { value, field }: Large): string {
  const isTube = TUBE_FIELDS.has(field)
  const found = Number.isFinite(value) ? `${roughly(value)} mm` : 'a figure too large to hold'
  return isTube
    ? `${name}: found ${found}; a tube, its wall and its insulation are at most ${LARGEST_TUBE_WORDS}.`
    : `${name}: found ${found}; nothing on a skid is longer, or farther from the origin, than ${LARGEST_LENGTH_WORDS}.`
}

/** To be recognised, not to be read off. */
const roughly = (value: number): string =>
  Math.abs(value) < 1e15 ? String(Number(value.toFixed(2))) : value.toExponential(2)

function nameOf(entry: object): string {
  const { tag, name, id } = entry as { tag?: unknown; name?: unknown; id?: unknown }
  const called = [tag, name, id].find(word => typeof word === 'string' && word !== '')
  return typeof called === 'string' ? called : 'The skid'
}
