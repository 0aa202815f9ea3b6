import { describe, expect, test } from 'vitest'
import { type ArcShape, type LineShape, type Shape, sweep } from '../../src/geometry/swept.ts'
import { selfGap, sweptGap } from '../../src/geometry/sweptGap.ts'
import { distance, sub, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import { seeded } from '../random.ts'
import { pointToTube, randomShapes, sampledDistance } from './sampledTube.ts'

const line = (start: Vec3, end: Vec3): LineShape => ({
  kind: 'line',
  start,
  end,
  direction: unit(sub(end, start))!,
})
const rod = (start: Vec3, end: Vec3, radius: number) => sweep([line(start, end)], radius)
/** Three arcs of 120° make a whole ring about z; the seam, where the curve's ends are, lies at 1 rad. */
const ring = (at: Vec3, R: number): ArcShape[] =>
  [0, 1, 2].map(k => {
    const a = 1 + (k * 2 * Math.PI) / 3
    return {
      kind: 'arc',
      start: [at[0] + R * Math.cos(a), at[1] + R * Math.sin(a), at[2]],
      centre: at,
      radius: R,
      normal: [0, 0, 1],
      direction: [-Math.sin(a), Math.cos(a), 0],
      angleRad: (2 * Math.PI) / 3,
    }
  })
const gapOf = (a: readonly Shape[], ra: number, b: readonly Shape[], rb: number) =>
  sweptGap(sweep(a, ra), sweep(b, rb), Infinity)!

describe('closed forms', () => {
  test('parallel rods are apart by the distance of their axes less both radii', () => {
    // Axes x-parallel, 30 mm apart in y and 40 in z: √(30² + 40²) − 6 − 4 = 40.
    const g = sweptGap(rod([0, 0, 0], [500, 0, 0], 6), rod([100, 30, 40], [300, 30, 40], 4), Infinity)!
    expect(g.gap).toBeCloseTo(40, 9)
    expect(g.errorBound).toBeLessThan(1e-6)
  })

  test('crossing rods are apart by the common perpendicular less both radii', () => {
    // Along x at z = 0 and along y at z = 25: 25 − 6.35 − 3.175 = 15.475, above the crossing at (120, 80).
    const g = sweptGap(
      rod([0, 80, 0], [500, 80, 0], 6.35),
      rod([120, -200, 25], [120, 300, 25], 3.175),
      Infinity,
    )!
    expect(g.gap).toBeCloseTo(15.475, 9)
    expect(distance(g.pointA, [120, 80, 6.35])).toBeLessThan(1e-9)
    expect(distance(g.pointB, [120, 80, 21.825])).toBeLessThan(1e-9)
  })

  test('rods whose axes cross overlap by both radii', () => {
    const g = sweptGap(rod([-50, 0, 0], [50, 0, 0], 6), rod([0, -50, 0], [0, 50, 0], 4), Infinity)!
    expect(g.gap).toBeCloseTo(-10, 9)
  })

  test('coaxial rods end to end are apart by the plain distance of their cut faces, not of rounded ends', () => {
    // Faces at x = 100 and x = 112.5.
    const g = sweptGap(rod([0, 0, 0], [100, 0, 0], 6), rod([112.5, 0, 0], [200, 0, 0], 10), Infinity)!
    expect(g.gap).toBeCloseTo(12.5, 6)
    expect(g.errorBound).toBeLessThanOrEqual(0.01)
  })

  test('a cut end square to a rod’s side is apart by axis distance less one radius', () => {
    // Face at z = 20 over a rod along x of radius 6: 20 − 6 = 14, whatever the end’s own radius is.
    const g = sweptGap(rod([0, 0, 20], [0, 0, 300], 9), rod([-200, 0, 0], [200, 0, 0], 6), Infinity)!
    expect(g.gap).toBeCloseTo(14, 3)
    expect(g.errorBound).toBeLessThanOrEqual(0.01)
    const poked = sweptGap(rod([0, 0, 5], [0, 0, 300], 9), rod([-200, 0, 0], [200, 0, 0], 6), Infinity)!
    expect(poked.gap).toBeCloseTo(-1, 3)
  })

  test('two cut ends side by side at an offset come nearest rim to rim', () => {
    // A: face at x = 0, its upper rim at y = 5. B: face at x = 12, lower rim at y = 26 − 5 = 21. √(12² + 16²) = 20.
    const g = sweptGap(rod([-100, 0, 0], [0, 0, 0], 5), rod([12, 26, 0], [90, 26, 0], 5), Infinity)!
    expect(Math.abs(g.gap - 20)).toBeLessThanOrEqual(g.errorBound)
    expect(g.errorBound).toBeLessThanOrEqual(0.01)
  })

  test('a rod through a ring’s middle, square to it, is apart by the ring’s radius less both rods’', () => {
    // Every point of the ring is R = 40 from the axis: 40 − 6 − 5 = 29.
    const g = gapOf(ring([0, 0, 0], 40), 5, [line([0, 0, -100], [0, 0, 100])], 6)
    expect(Math.abs(g.gap - 29)).toBeLessThanOrEqual(g.errorBound)
    expect(g.errorBound).toBeLessThanOrEqual(0.01)
  })

  test('a rod parallel to a ring’s plane, above it, comes nearest above the crossing', () => {
    // The line y = 10, z = 30 passes straight over the circle R = 40 at x = ±√(40² − 10²): 30 − 5 − 6 = 19.
    const g = gapOf(ring([0, 0, 0], 40), 5, [line([-100, 10, 30], [100, 10, 30])], 6)
    expect(g.gap).toBeCloseTo(19, 6)
    expect(Math.abs(Math.abs(g.pointA[0]) - Math.sqrt(1500))).toBeLessThan(0.01)
  })

  test('coaxial rings are apart by √(ΔR² + Δz²) less both radii all the way round', () => {
    // ΔR = 30, Δz = 40: 50 − 4 − 6 = 40.
    const g = gapOf(ring([0, 0, 0], 40), 4, ring([0, 0, 40], 70), 6)
    expect(Math.abs(g.gap - 40)).toBeLessThanOrEqual(g.errorBound)
    expect(g.errorBound).toBeLessThanOrEqual(0.01)
  })
})

describe('line to unit circle in the xy plane', () => {
  // Computed independently in double precision; no published table of these cases is at hand.
  // A line there has no ends; 100 to both sides stands in. Radii of 0.01 are taken off again.
  for (const [at, along, wanted] of [
    [[0, 0, 0], [1, 1, 0.5], 1 / 3],
    [[0, 0, 0], [2, 0, 1], 0.4472135955],
    [[2, 2, 0], [1, 1, 2], 1.4929044958],
    [[0.5, 0, 0], [0, 0, 1], 0.5],
  ] as const)
    test(`through (${at}) along (${along}): ${wanted}`, () => {
      const u = unit(along)!
      const far = (s: number): Vec3 => [at[0] + s * u[0], at[1] + s * u[1], at[2] + s * u[2]]
      const g = gapOf(ring([0, 0, 0], 1), 0.01, [line(far(-100), far(100))], 0.01)
      expect(g.gap + 0.02).toBeCloseTo(wanted, 6)
      expect(g.errorBound).toBeLessThanOrEqual(0.01)
    })
})

describe('against dense sampling', () => {
  const seed = 20260401
  test(`60 random pairs are never optimistic and within the stated bound (seed ${seed})`, () => {
    const random = seeded(seed).next
    let apart = 0
    for (let k = 0; k < 60; k++) {
      const clr = 15 + 40 * random()
      const a = sweep(
        randomShapes(random, Math.floor(4 * random()), [0, 0, 0], clr),
        clr * (0.15 + 0.3 * random()),
      )
      const at: Vec3 = [300 * (random() - 0.5), 300 * (random() - 0.5), 300 * (random() - 0.5)]
      const b = sweep(randomShapes(random, Math.floor(4 * random()), at, clr), clr * (0.15 + 0.3 * random()))
      const g = sweptGap(a, b, Infinity)!
      const sampled = Math.min(
        sampledDistance(a, p => pointToTube(p, b)),
        sampledDistance(b, p => pointToTube(p, a)),
      )
      if (sampled > 0.001) {
        apart++
        expect(g.errorBound, `pair ${k}`).toBeLessThanOrEqual(0.01)
        expect(g.gap, `pair ${k}: optimistic`).toBeLessThanOrEqual(sampled + g.errorBound)
        expect(g.gap, `pair ${k}: too near`).toBeGreaterThan(sampled - 0.01)
        expect(pointToTube(g.pointA, a), `pair ${k}: point A off A`).toBeLessThan(0.01)
        expect(pointToTube(g.pointB, b), `pair ${k}: point B off B`).toBeLessThan(0.01)
        expect(Math.abs(distance(g.pointA, g.pointB) - g.gap)).toBeLessThan(1e-6)
      } else expect(g.gap, `pair ${k}: overlap missed`).toBeLessThan(0.01)
    }
    expect(apart).toBeGreaterThan(35)
  })
})

describe('a curve against itself', () => {
  const bend = (start: Vec3, direction: Vec3, R: number, angleRad: number): ArcShape => ({
    kind: 'arc',
    start,
    centre: [start[0] - direction[1] * R, start[1] + direction[0] * R, 0],
    radius: R,
    normal: [0, 0, 1],
    direction,
    angleRad,
  })

  test('the two legs of a U made of two square bends are apart by the distance of their axes less the diameter', () => {
    const shapes: Shape[] = [
      line([0, 0, 0], [100, 0, 0]),
      bend([100, 0, 0], [1, 0, 0], 20, Math.PI / 2),
      line([120, 20, 0], [120, 30, 0]),
      bend([120, 30, 0], [0, 1, 0], 20, Math.PI / 2),
      line([100, 50, 0], [0, 50, 0]),
    ]
    const g = selfGap(sweep(shapes, 6), Infinity)!
    expect(Math.abs(g.gap - 38)).toBeLessThanOrEqual(g.errorBound)
    expect(g.errorBound).toBeLessThanOrEqual(0.01)
  })

  test('one bend alone has no gap to itself, however sharp its legs’ neighbourhood', () => {
    const shapes: Shape[] = [
      line([0, 0, 0], [30, 0, 0]),
      bend([30, 0, 0], [1, 0, 0], 20, 1),
      line(
        [30 + 20 * Math.sin(1), 20 - 20 * Math.cos(1), 0],
        [30 + 20 * Math.sin(1) + 50 * Math.cos(1), 20 - 20 * Math.cos(1) + 50 * Math.sin(1), 0],
      ),
    ]
    expect(selfGap(sweep(shapes, 6), Infinity)).toBeNull()
  })
})

test('only gaps below the limit are answered', () => {
  const a = rod([0, 0, 0], [500, 0, 0], 6)
  const b = rod([0, 40, 0], [500, 40, 0], 4)
  expect(sweptGap(a, b, 30)).toBeNull()
  expect(sweptGap(a, b, 30.001)?.gap).toBeCloseTo(30, 9)
})
