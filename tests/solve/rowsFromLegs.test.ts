import { expect, test } from 'vitest'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'
import { rowsFromLegs } from '../../src/solve/rowsFromLegs.ts'

test('legs between intersections become the straights that give those legs back', () => {
  const bends = [
    { angle: 90, rotation: null },
    { angle: 45, rotation: 30 },
  ]
  const legs = [200, 150, 90]
  const points = rowsToPoints(rowsFromLegs({ straights: legs, bends }, 38), 38, PLAIN_FRAME)
  const lengths = points.slice(1).map((p, i) => Math.hypot(...p.map((c, k) => c - points[i]![k]!)))
  lengths.forEach((length, i) => {
    expect(length).toBeCloseTo(legs[i]!, 9)
  })
})

test('a leg too short for its bends comes out negative, and a tube without bends is its one leg', () => {
  const bends = [{ angle: 90, rotation: null }]
  expect(rowsFromLegs({ straights: [30, 50], bends }, 38).straights.map(s => Math.round(s))).toEqual([-8, 12])
  expect(rowsFromLegs({ straights: [500], bends: [] }, 38).straights).toEqual([500])
})
