import { DEG, sub, type Vec3 } from '../../geometry/vec3.ts'

/** One point seen from another. */
export interface Polar {
  /** mm, ≥ 0. */
  readonly length: number
  /** In the floor plane, counter-clockwise from +x seen from above, (−180, 180]°; 0 on a plumb leg. */
  readonly bearing: number
  /** Above the floor plane, −90…90°. */
  readonly rise: number
}

/** `to` as seen from `from`. */
export function toPolar(from: Vec3, to: Vec3): Polar {
  const [x, y, z] = sub(to, from)
  const flat = Math.hypot(x, y)
  return {
    length: Math.hypot(x, y, z),
    bearing: flat === 0 ? 0 : Math.atan2(y, x) / DEG + 0,
    rise: flat === 0 && z === 0 ? 0 : Math.atan2(z, flat) / DEG + 0,
  }
}

/** The point seen from `from` in that direction at that distance. Quarter turns come out exact. */
export function fromPolar(from: Vec3, { length, bearing, rise }: Polar): Vec3 {
  const flat = length * cosDeg(rise)
  return [from[0] + flat * cosDeg(bearing), from[1] + flat * sinDeg(bearing), from[2] + length * sinDeg(rise)]
}

const sinDeg = (deg: number): number => (deg % 180 === 0 ? 0 : Math.sin(deg * DEG))
const cosDeg = (deg: number): number => ((deg - 90) % 180 === 0 ? 0 : Math.cos(deg * DEG))
