import type { Vec3 } from '../../geometry/vec3.ts'
import { plainKind } from './quantityKind.ts'

const WANTED = 'type x, y and z as numbers, such as 0, 0, 1, with a point for decimals'

export type ReadDirection =
  | { readonly ok: true; readonly value: Vec3 }
  | { readonly ok: false; readonly reason: string }

/**
 * A direction as a whole: three figures with commas, semicolons or blanks between, `0, 0, 1`, or an axis with its sign,
 * `-z`. Decimals have a point. Refused with the reason: other than three figures, and 0, 0, 0, which has no direction.
 */
export function readDirection(text: string): ReadDirection {
  const axis = /^\s*([-+−]?)\s*([xyz])\s*$/i.exec(text)
  if (axis) {
    const sign = axis[1] === '' || axis[1] === '+' ? 1 : -1
    const k = 'xyz'.indexOf(axis[2]!.toLowerCase())
    return { ok: true, value: [0, 1, 2].map(i => (i === k ? sign : 0)) as unknown as Vec3 }
  }
  const parts = text
    .trim()
    .split(/\s*[,;]\s*|\s+/)
    .filter(p => p !== '')
  if (parts.length !== 3)
    return {
      ok: false,
      reason: `"${text.trim()}" has ${parts.length} ${parts.length === 1 ? 'part' : 'parts'}: ${WANTED}`,
    }
  const value: number[] = []
  for (const [i, part] of parts.entries()) {
    const read = plainKind.parse(part)
    if (!read.ok)
      return { ok: false, reason: `${'xyz'[i]}: ${read.reason}. Wanted three numbers, such as 0, 0, 1` }
    value.push(read.value)
  }
  const direction = value as unknown as Vec3
  return Math.hypot(...direction) > 0
    ? { ok: true, value: direction }
    : { ok: false, reason: '0, 0, 0 has no direction' }
}

/** The direction as it is typed: `0, 0, 1`; figures that nobody would type rounded. */
export const directionText = (value: Vec3): string => value.map(v => plainKind.show(v)).join(', ')
