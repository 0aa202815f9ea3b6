import { expect, test } from 'vitest'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { fromPolar, toPolar } from '../../src/view/panels/polar.ts'

test('a leg along y bears 90° and is level', () => {
  expect(toPolar([10, 20, 30], [10, 120, 30])).toEqual({ length: 100, bearing: 90, rise: 0 })
})

test('a plumb leg rises 90° and bears nothing', () => {
  expect(toPolar([0, 0, 0], [0, 0, -50])).toEqual({ length: 50, bearing: 0, rise: -90 })
})

test('a leg of 2, 3, 6 is 7 long', () => {
  expect(toPolar([0, 0, 0], [2, 3, 6]).length).toBe(7)
})

test('quarter turns come back as exact figures', () => {
  expect(fromPolar([1, 2, 3], { length: 10, bearing: 90, rise: 0 })).toEqual([1, 12, 3])
  expect(fromPolar([1, 2, 3], { length: 10, bearing: 180, rise: 0 })).toEqual([-9, 2, 3])
  expect(fromPolar([1, 2, 3], { length: 10, bearing: 37, rise: -90 })).toEqual([1, 2, -7])
})

const SEED = 20261125
test(`there and back is the same point within 1e-9 mm, seed ${SEED}`, () => {
  let state = SEED
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return (state / 2 ** 32 - 0.5) * 4000
  }
  for (let i = 0; i < 2000; i++) {
    const from: Vec3 = [next(), next(), next()]
    const to: Vec3 = [next(), next(), next()]
    expect(distance(fromPolar(from, toPolar(from, to)), to)).toBeLessThan(1e-9)
  }
})
