import { describe, expect, test } from 'vitest'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'

function solve(points: readonly Vec3[], clr: number) {
  const result = solveRoute(
    points,
    points.map((_, i) => `p${i}`),
    clr,
  )
  if (!result.ok) throw new Error(result.problem.message)
  return result.route
}
/** One bend of θ with legs long enough, CLR 1. */
const unitBend = (deg: number) => {
  const r = (deg * Math.PI) / 180
  return solve(
    [
      [0, 0, 0],
      [10, 0, 0],
      [10 + 10 * Math.cos(r), 10 * Math.sin(r), 0],
    ],
    1,
  ).bends[0]!
}

describe('setback, arc and gain at unit radius', () => {
  // Computed independently in double precision (tan, radians); printed to 6 decimals.
  test.each([
    [22.5, 0.198912, 0.392699, 0.005126],
    [30, 0.267949, 0.523599, 0.0123],
    [45, 0.414214, 0.785398, 0.043029],
    [60, 0.57735, 1.047198, 0.107503],
    [90, 1, 1.570796, 0.429204],
    [120, 1.732051, 2.094395, 1.369707],
  ])('%s°', (deg, setback, arc, gain) => {
    const bend = unitBend(deg)
    expect(bend.tangentLength).toBeCloseTo(setback, 6)
    expect(bend.arcLength).toBeCloseTo(arc, 6)
    expect(bend.gain).toBeCloseTo(gain, 6)
  })

  // Gain factors as the trade's tables print them to 4 decimals; from memory, the table is not named. The 34° row is
  // printed .0181 for an exact .01805, within its rounding too.
  test.each([
    [31, 0.0136],
    [34, 0.0181],
    [35, 0.0197],
    [36, 0.0215],
    [61, 0.1134],
    [63, 0.126],
    [66, 0.1469],
  ])('the trade’s gain factor at %s° is %s (from memory)', (deg, factor) => {
    expect(Math.abs(unitBend(deg).gain - factor)).toBeLessThanOrEqual(0.0001)
  })
})

describe('worked examples', () => {
  test('a practice question of the New Mexico pipe-fitter journeyman examination (public copy): 1/2 in tube, 90°: gain 0.64 in (CLR 1.5 in)', () => {
    expect(1.5 * unitBend(90).gain).toBeCloseTo(0.64, 2)
  })

  // It gives the gain to the nearest sixteenth, so this is all that it says.
  test('NCCER module 12302-15, as quoted by a public study page: 1/2 in tube at 45° gains 1/16 in, to the nearest sixteenth', () => {
    expect(Math.round(1.5 * unitBend(45).gain * 16)).toBe(1)
  })

  test('NJATC, Conduit Fabrication II, lesson 4: stub 48, leg 44, radius 24, OD 2.375 in, 79.305 in in all', () => {
    // The lesson measures stub and leg to the outside of the tube and takes π as 3.14.
    const half = 2.375 / 2
    const route = solve(
      [
        [0, 0, 0],
        [48 - half, 0, 0],
        [48 - half, 44 - half, 0],
      ],
      24,
    )
    expect(route.straights[0]).toBeCloseTo(22.8125, 10)
    expect(route.straights[1]).toBeCloseTo(18.8125, 10)
    expect((route.bends[0]!.arcLength / Math.PI) * 3.14).toBeCloseTo(37.68, 10)
    expect(route.straights[0]! + route.straights[1]! + 37.68).toBeCloseTo(79.305, 10)
  })

  test('an offset with real radius: height 4, 30°, CLR 1.5: straight 7.19615 (computed independently)', () => {
    const run = 4 / Math.tan(Math.PI / 6)
    const route = solve(
      [
        [0, 0, 0],
        [20, 0, 0],
        [20 + run, 4, 0],
        [40 + run, 4, 0],
      ],
      1.5,
    )
    expect(route.straights[1]).toBeCloseTo(7.19615, 5)
    expect(route.straights[1]! + route.bends[0]!.arcLength).toBeCloseTo(7.98155, 5)
    expect(route.bends[1]!.rotation).toBe(180)
  })

  test('a rolling offset: set 12, roll 16, 45°: travel 28.2843 (trade formula, computed independently)', () => {
    const route = solve(
      [
        [0, 0, 0],
        [50, 0, 0],
        [70, 12, 16],
        [120, 12, 16],
      ],
      1,
    )
    expect(route.straights[1]! + route.bends[0]!.tangentLength * 2).toBeCloseTo(28.2843, 4)
    expect(route.bends[0]!.angle).toBeCloseTo(45, 10)
  })
})

describe('plane rotation is the IUPAC torsion angle of the four points around the straight', () => {
  // Coordinates and angles of a worked example that is passed round for torsion-angle code (a public question and answer
  // site, question 20305272, from memory); any molecular-geometry library gives the same.
  const p: Vec3[] = [
    [24.969, 13.428, 30.692],
    [24.044, 12.661, 29.808],
    [22.785, 13.482, 29.543],
    [21.951, 13.67, 30.431],
    [23.672, 11.328, 30.466],
    [22.881, 10.326, 29.62],
    [23.691, 9.935, 28.389],
  ]
  test.each([
    [[0, 1, 2, 3], -71.215151],
    [[0, 1, 4, 5], -171.943199],
    [[1, 4, 5, 6], 60.822267],
  ])('points %s: %s°', (at, torsion) => {
    expect(
      solve(
        at.map(i => p[i]!),
        0.1,
      ).bends[1]!.rotation,
    ).toBeCloseTo(torsion, 6)
  })
})

describe('whole routes, computed independently in double precision', () => {
  test('a lopsided pair of elbows turns +90, its mirror image −90', () => {
    const route = solve(
      [
        [0, 0, 0],
        [100, 0, 0],
        [100, 100, 0],
        [100, 100, 100],
      ],
      20,
    )
    expect(route.bends.map(b => b.angle)).toEqual([90, 90])
    expect(route.bends[1]!.rotation).toBeCloseTo(90, 12)
    expect(route.straights).toEqual([80, 60, 80].map(s => expect.closeTo(s, 10)))
    expect(route.developedLength).toBeCloseTo(282.831853, 6)
    const mirrored = solve(
      [
        [0, 0, 0],
        [100, 0, 0],
        [100, 100, 0],
        [100, 100, -100],
      ],
      20,
    )
    expect(mirrored.bends[1]!.rotation).toBeCloseTo(-90, 12)
  })
  test('a flat offset is a half turn', () => {
    const route = solve(
      [
        [0, 0, 0],
        [100, 0, 0],
        [200, 100, 0],
        [300, 100, 0],
      ],
      38.1,
    )
    expect(route.bends[1]!.rotation).toBe(180)
    expect(route.straights).toEqual([84.218463, 109.858283, 84.218463].map(s => expect.closeTo(s, 6)))
    expect(route.developedLength).toBeCloseTo(338.142549, 6)
  })
  test('three bends in three planes', () => {
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
    expect(route.bends.map(b => b.angle)).toEqual([48.189685, 42.302625, 90].map(a => expect.closeTo(a, 6)))
    expect(route.bends.map(b => b.rotation)).toEqual([
      null,
      expect.closeTo(10.619655, 6),
      expect.closeTo(172.104858, 6),
    ])
    expect(route.straights).toEqual([182.961162, 118.22038, 127.436782, 111.9].map(s => expect.closeTo(s, 6)))
    expect(route.developedLength).toBeCloseTo(660.540376, 6)
  })
})
