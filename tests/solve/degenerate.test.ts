import { describe, expect, test } from 'vitest'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { pointAt } from '../../src/solve/centreLine.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import type { SolvedRoute } from '../../src/solve/types.ts'

const answer = (points: readonly Vec3[], clr = 20) =>
  solveRoute(
    points,
    points.map((_, i) => `p${i}`),
    clr,
  )
function solve(points: readonly Vec3[], clr = 20): SolvedRoute {
  const result = answer(points, clr)
  if (!result.ok) throw new Error(result.problem.message)
  return result.route
}
const problem = (points: readonly Vec3[], clr = 20) => {
  const result = answer(points, clr)
  return result.ok ? null : result.problem
}

describe('degenerate routes are answers with names and figures', () => {
  test('two points: one straight, no bend', () => {
    const route = solve([
      [0, 0, 0],
      [0, 0, 250],
    ])
    expect(route.straights).toEqual([250])
    expect(route.bends).toEqual([])
    expect(route.developedLength).toBe(250)
  })
  test('one point is too few', () => {
    expect(problem([[0, 0, 0]])).toMatchObject({ code: 'tooFewPoints', found: '1 point' })
    expect(problem([])).toMatchObject({ code: 'tooFewPoints', found: '0 points' })
  })
  test('a collinear vertex is passed through and said so, its legs one straight', () => {
    const route = solve([
      [0, 0, 0],
      [50, 0, 0],
      [100, 0, 0],
      [100, 100, 0],
    ])
    expect(route.passedThrough).toEqual([1])
    expect(route.straights).toEqual([80, 80].map(s => expect.closeTo(s, 10)))
    expect(route.bends.map(b => b.vertex)).toEqual([2])
  })
  test('coincident points name the leg', () => {
    expect(
      problem([
        [0, 0, 0],
        [50, 0, 0],
        [50, 0, 0],
        [50, 50, 0],
      ]),
    ).toMatchObject({
      code: 'coincidentPoints',
      place: 'leg',
      at: 1,
    })
  })
  test('an exact reversal names the point', () => {
    expect(
      problem([
        [0, 0, 0],
        [50, 0, 0],
        [20, 0, 0],
      ]),
    ).toMatchObject({ code: 'reversal', place: 'point', at: 1 })
  })
  test('a reversal behind a collinear vertex is still found', () => {
    expect(
      problem([
        [0, 0, 0],
        [20, 0, 0],
        [50, 0, 0],
        [10, 0, 0],
      ]),
    ).toMatchObject({ code: 'reversal', at: 2 })
  })
  test.each([Number.NaN, Number.POSITIVE_INFINITY])('a coordinate of %s names the point', bad => {
    expect(
      problem([
        [0, 0, 0],
        [50, bad, 0],
        [50, 50, 0],
      ]),
    ).toMatchObject({ code: 'notFinite', place: 'point', at: 1 })
  })
  test('points so far apart that the distance overflows are refused', () => {
    expect(
      problem([
        [-1.7e308, 0, 0],
        [1.7e308, 0, 0],
      ]),
    ).toMatchObject({ code: 'coincidentPoints', at: 0 })
  })
  test.each([0, -5, Number.NaN])('a CLR of %s is refused', clr => {
    expect(
      problem(
        [
          [0, 0, 0],
          [9, 0, 0],
        ],
        clr,
      ),
    ).toMatchObject({ code: 'badClr' })
  })
  test('a leg that its tangents overrun comes out negative by what is missing', () => {
    const route = solve(
      [
        [0, 0, 0],
        [100, 0, 0],
        [100, 30, 0],
        [200, 30, 0],
      ],
      20,
    )
    expect(route.straights[1]).toBeCloseTo(-10, 10)
  })
  test('a hairpin has long tangents and a short arc', () => {
    const route = solve(
      [
        [0, 0, 0],
        [1000, 0, 0],
        [2, 10, 0],
      ],
      10,
    )
    expect(route.bends[0]!.angle).toBeGreaterThan(179)
    expect(route.bends[0]!.arcLength).toBeLessThan(Math.PI * 10)
    expect(route.bends[0]!.tangentLength).toBeGreaterThan((100 * route.bends[0]!.arcLength) / Math.PI)
  })
  test('planar routes have rotations of exactly 0 (a U) or 180 (a Z)', () => {
    expect(
      solve([
        [0, 0, 0],
        [100, 0, 0],
        [100, 100, 0],
        [0, 100, 0],
      ]).bends[1]!.rotation,
    ).toBe(0)
    expect(
      solve([
        [0, 0, 0],
        [100, 0, 0],
        [100, 100, 0],
        [200, 100, 0],
      ]).bends[1]!.rotation,
    ).toBe(180)
    expect(
      solve([
        [0, 0, 0],
        [0, 0, 90],
        [0, 80, 90],
        [0, 80, 180],
      ]).bends[1]!.rotation,
    ).toBe(180)
  })
  test('a closed loop is a legal route', () => {
    const route = solve([
      [0, 0, 0],
      [100, 0, 0],
      [100, 100, 0],
      [0, 100, 0],
      [0, 0, 0],
    ])
    expect(route.bends).toHaveLength(3)
    expect(distance(route.points[0]!, route.points[4]!)).toBe(0)
  })
  test('10,000 points are solved', () => {
    const points = Array.from({ length: 10_000 }, (_, i): Vec3 => [i * 100, (i % 2) * 100, 0])
    expect(solve(points, 10).bends).toHaveLength(9_998)
  })
})

describe('the centre line is exact at any distance', () => {
  const route = solve(
    [
      [0, 0, 0],
      [200, 0, 0],
      [300, 100, 50],
      [300, 250, 150],
      [450, 250, 150],
    ],
    38.1,
  )
  test('pieces join in place and direction', () => {
    route.pieces.forEach((piece, i) => {
      const next = route.pieces[i + 1]
      if (next) {
        expect(distance(piece.end, next.start)).toBeLessThan(1e-12)
        const before = pointAt(route, piece.to - 1e-7).direction
        expect(distance(before, pointAt(route, piece.to + 1e-7).direction)).toBeLessThan(1e-7)
      }
    })
  })
  test('its speed is 1: a small step along it is as long as the step', () => {
    for (let at = 0; at < route.developedLength - 0.001; at += 7.3) {
      const step = distance(pointAt(route, at).point, pointAt(route, at + 0.001).point)
      expect(Math.abs(step - 0.001)).toBeLessThan(1e-9)
    }
  })
  test('it starts at A, ends at B, and refuses a distance outside', () => {
    expect(pointAt(route, 0).point).toEqual([0, 0, 0])
    expect(distance(pointAt(route, route.developedLength).point, [450, 250, 150])).toBeLessThan(1e-9)
    expect(() => pointAt(route, -1)).toThrow(/found -1 mm/)
    expect(() => pointAt(route, Number.NaN)).toThrow(RangeError)
  })
})
