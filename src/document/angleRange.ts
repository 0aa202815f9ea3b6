import { formatAngle } from './quantity.ts'

/** Angles this near their limit meet it: the rounding of a route's figures, far under any dial. Degrees. */
const ANGLE_SLACK_DEG = 1e-6

/** True for an angle that is more than its limit, not merely by rounding; degrees. */
export const isAbove = (deg: number, limit: number): boolean => deg > limit + ANGLE_SLACK_DEG

/** True for an angle that is less than its limit, not merely by rounding; degrees. */
export const isBelow = (deg: number, limit: number): boolean => deg < limit - ANGLE_SLACK_DEG

/** True for an angle that is not in the range, not merely by rounding; degrees. */
export const isOutside = (deg: number, [low, high]: readonly [number, number]): boolean =>
  isBelow(deg, low) || isAbove(deg, high)

/**
 * An angle for a sentence, with its sign: at most `digits` decimals, and more where rounding would make it read like one
 * of those it stands `beside`.
 */
export function angleText(
  deg: number,
  beside: number | readonly number[] = [],
  { digits = 2, fixed = false }: { readonly digits?: number; readonly fixed?: boolean } = {},
): string {
  const others = [beside].flat().filter(other => other !== deg)
  const alike = (d: number) =>
    others.some(other => formatAngle(deg, d, fixed) === formatAngle(other, d, fixed))
  let shown = digits
  while (shown < 9 && alike(shown)) shown++
  return `${formatAngle(deg, shown, fixed)}°`
}

/** A range of angles for a sentence, its ends told from an angle that they stand beside. */
export const rangeText = ([low, high]: readonly [number, number], beside: number): string =>
  `${angleText(low, beside)}–${angleText(high, beside)}`
