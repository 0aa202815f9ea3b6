import type { Vec3 } from '../src/geometry/vec3.ts'

/** A small seeded generator (mulberry32): the same seed gives the same tests on every machine. */
export function seeded(seed: number) {
  let a = seed >>> 0
  const next = () => {
    a = (a + 0x6d2b79f5) >>> 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
  const between = (low: number, high: number) => low + (high - low) * next()
  const whole = (low: number, high: number) => Math.floor(between(low, high + 1))
  const direction = (): Vec3 => {
    const z = between(-1, 1)
    const t = between(0, 2 * Math.PI)
    const r = Math.sqrt(1 - z * z)
    return [r * Math.cos(t), r * Math.sin(t), z]
  }
  return { next, between, whole, direction }
}
export type Random = ReturnType<typeof seeded>
