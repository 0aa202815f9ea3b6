import { expect, test } from 'vitest'
import { cylinder } from '../../src/geometry/convex.ts'
import { convexDistance } from '../../src/geometry/convexPair.ts'
import { add, type Vec3 } from '../../src/geometry/vec3.ts'
import { type Random, seeded } from '../random.ts'

const SEED = 5127
const SCALES = [1, 5, 10, 20]

const point = (random: Random, r: number): Vec3 => [
  random.between(-r, r),
  random.between(-r, r),
  random.between(-r, r),
]

test(`two drums that hardly part are apart at every scale, as far as their bounds say (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let parted = 0
  for (let scene = 0; scene < 120; scene++) {
    const [u, w] = [random.direction(), random.direction()]
    const [a, b] = [point(random, 120), point(random, 120)]
    const [la, lb] = [random.between(20, 90), random.between(60, 200)]
    const [ra, rb] = [random.between(4, 12), random.between(30, 90)]
    const pair = (k: number, shift: number) => {
      const moved = add(a, [shift, 0, 0])
      const scaled = (p: Vec3): Vec3 => [p[0] * k, p[1] * k, p[2] * k]
      return convexDistance(
        cylinder(scaled(moved), u, la * k, ra * k),
        cylinder(scaled(b), w, lb * k, rb * k),
        1e-9,
      )
    }
    // Where they just meet, and a series of places a hair beyond it.
    let [meets, apart] = [0, 400]
    if (pair(1, apart).overlap) continue
    for (let i = 0; i < 50; i++) {
      const half = (meets + apart) / 2
      if (pair(1, half).overlap) meets = half
      else apart = half
    }
    for (const k of SCALES)
      for (let step = 0; step < 12; step++) {
        const shift = apart + 1e-4 * (1 + random.between(0, 10))
        const [one, many] = [pair(1, shift), pair(k, shift)]
        const where = `scene ${scene}, scale ${k}, shift ${shift}`
        if (one.lower > 1e-6) {
          parted++
          expect(many.overlap, where).toBe(false)
        }
        expect(Math.abs(many.upper / k - one.upper), where).toBeLessThan(1e-7)
      }
  }
  expect(parted).toBeGreaterThan(1000)
})
