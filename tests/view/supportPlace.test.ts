import { expect, test } from 'vitest'
import type { SkidDocument, Support } from '../../src/document/types.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { supportStand } from '../../src/view/scene/supportStand.ts'
import { saddleLines } from '../../src/view/supports/saddleLines.ts'
import { type SupportPlace, supportPlace } from '../../src/view/supports/supportPlace.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'

// CLR 36: up 300, then 400 along x. Straights 264 and 364, the arc 18π between them.
const run = runOf('r1', [[0, 0, 300]], {
  endA: { kind: 'free', at: [0, 0, 0] },
  endB: { kind: 'free', at: [400, 0, 300] },
})
const clamp = (id: string, at: Vec3): Support => ({ id, name: `Clamp ${id}`, type: 'clamp', run: 'r1', at })
const skid = (...supports: Support[]): SkidDocument => ({ ...documentOf([run]), supports })
const route = solveRun(skid(), run).route!
const place = (p: Vec3, step: number | null, document = skid()): SupportPlace => {
  const found = supportPlace(document, run, route, p, step)
  if ('refused' in found) throw new Error(found.refused)
  return found
}
const ARC = (Math.PI / 2) * 36

test('a place is a whole step from where the straight starts, on the centre line', () => {
  const first = place([5, 3, 123.4], 5)
  expect(first).toMatchObject({ straight: 0, on: 125, from: 'end A', at: [0, 0, 125] })
  // The second straight starts at x 36.
  const second = place([36 + 51.3, 2, 304], 1)
  expect(second).toMatchObject({ straight: 1, on: 51, from: 'bend 1' })
  expect(second.at).toEqual([87, 0, 300].map(x => expect.closeTo(x, 9)))
  expect(place([0, 0, 123.456], null).on).toBeCloseTo(123.456, 9)
  // Sixteenths of an inch.
  expect(place([0, 0, 100], 25.4 / 16).on / (25.4 / 16)).toBeCloseTo(63, 9)
})

test('the last step is still on the straight', () => {
  expect(place([0, 0, 263.9], 10).on).toBe(260)
  expect(place([420, 0, 300], 100).on).toBe(300)
})

test('what lies beside it along the tube: ends, and supports over the bend', () => {
  const alone = place([0, 0, 100], 1)
  expect(alone.before).toEqual({ name: 'end A', away: 100 })
  expect(alone.after.name).toBe('end B')
  expect(alone.after.away).toBeCloseTo(164 + ARC + 364, 9)
  const between = place([0, 0, 100], 1, skid(clamp('a', [0, 0, 30]), clamp('b', [136, 0, 300])))
  expect(between.before).toEqual({ name: 'Clamp a', away: expect.closeTo(70, 9) })
  expect(between.after).toEqual({ name: 'Clamp b', away: expect.closeTo(164 + ARC + 100, 9) })
  // One that the tube has left holds nothing.
  expect(place([0, 0, 100], 1, skid(clamp('a', [20, 0, 30]))).before.name).toBe('end A')
})

test('a bend and a place that is taken are refused with the reason', () => {
  expect(supportPlace(skid(), run, route, [10.5, 0, 289.5], 1)).toEqual({
    refused: 'that is bend 1: a support needs straight tube',
  })
  expect(supportPlace(skid(clamp('a', [0, 0, 100])), run, route, [3, 0, 100.2], 1)).toEqual({
    refused: 'Clamp a is there already',
  })
})

test('the ghost stands under the tube, round its outside, as long as the saddle', () => {
  const at: Vec3 = [200, 0, 300]
  const points = saddleLines(supportStand(clamp('a', at), 12, route), 12).flat()
  expect(Math.min(...points.map(p => p[2]))).toBeCloseTo(300 - 1.1 * 12, 9)
  expect(Math.max(...points.map(p => p[2]))).toBeCloseTo(300, 9)
  expect(Math.max(...points.map(p => p[0])) - Math.min(...points.map(p => p[0]))).toBeCloseTo(1.2 * 12, 9)
  const nearest = Math.min(...points.map(p => distance([p[0], at[1], at[2]], p)))
  expect(nearest).toBeCloseTo(6, 9)
})
