import { describe, expect, test } from 'vitest'
import { box, type Convex, cylinder, halfSpace, sphere, turnedAxes } from '../../src/geometry/convex.ts'
import { sweep } from '../../src/geometry/swept.ts'
import { sweptConvexGap } from '../../src/geometry/sweptConvexGap.ts'
import { addScaled, distance, dot, sub, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import { seeded } from '../random.ts'
import { pointToTube, randomShapes, sampledDistance } from './sampledTube.ts'

const rod = (start: Vec3, end: Vec3, radius: number) =>
  sweep([{ kind: 'line', start, end, direction: unit(sub(end, start))! }], radius)
const gap = (a: ReturnType<typeof rod>, solid: Convex) => sweptConvexGap(a, solid, Infinity)!

describe('closed forms', () => {
  test('a box turned 45° about z meets a parallel rod with its edge', () => {
    // Half diagonal of a 40 × 40 box: 20√2. Rod along z at x = 100, radius 6: 100 − 20√2 − 6.
    const g = gap(rod([100, 0, -50], [100, 0, 50], 6), box([0, 0, 0], [40, 40, 200], [0, 0, 45]))
    expect(Math.abs(g.gap - (94 - 20 * Math.SQRT2))).toBeLessThanOrEqual(g.errorBound)
    expect(distance(g.pointB, [20 * Math.SQRT2, 0, g.pointB[2]])).toBeLessThan(1e-3)
  })

  test('turns are about the fixed x, then y, then z axis', () => {
    // x: +y goes to +z. z after that: +x goes to +y, +z stays.
    const [ex, ey, ez] = turnedAxes([90, 0, 90])
    expect(ex.map(c => Math.round(c) + 0)).toEqual([0, 1, 0])
    expect(ey.map(c => Math.round(c) + 0)).toEqual([0, 0, 1])
    expect(ez.map(c => Math.round(c) + 0)).toEqual([1, 0, 0])
  })

  test('a lopsided box far off the origin keeps its long side where the turn puts it', () => {
    // 400 × 20 × 20, turned 90° about y: the long side stands along z. Rod above its top end at z = 30 + 200.
    const solid = box([-500, 70, 30], [400, 20, 20], [0, 90, 0])
    expect(gap(rod([-600, 70, 260], [-400, 70, 260], 5), solid).gap).toBeCloseTo(25, 6)
    expect(gap(rod([-470, 70, -100], [-470, 70, 100], 5), solid).gap).toBeCloseTo(15, 6)
  })

  test('a cut end square on a box face is apart by the plain distance, and by its own reach when it goes in', () => {
    const solid = box([0, 0, 0], [100, 100, 100], [0, 0, 0])
    const apart = gap(rod([0, 0, 62], [0, 0, 200], 8), solid)
    expect(Math.abs(apart.gap - 12)).toBeLessThanOrEqual(apart.errorBound)
    expect(gap(rod([0, 0, 49], [0, 0, 200], 8), solid).gap).toBeCloseTo(-1, 3)
  })

  test('a leaning cut end reaches a floor with its lower rim', () => {
    // Axis at 30° to the floor, end centre 20 above: the rim hangs r·cos 30° lower: 20 − 8·cos 30°.
    const d: Vec3 = [Math.cos(Math.PI / 6), 0, Math.sin(Math.PI / 6)]
    const floor = halfSpace([0, 0, 0], [0, 0, 1])
    const g = gap(rod([0, 0, 20], addScaled([0, 0, 20], d, 200), 8), floor)
    expect(g.gap).toBeCloseTo(20 - 8 * Math.cos(Math.PI / 6), 9)
    expect(g.pointA[0]).toBeCloseTo(8 * Math.sin(Math.PI / 6), 9)
  })

  test('a level rod lies over a floor by its height less its radius; under it, it is negative', () => {
    const floor = halfSpace([0, 0, -10], [0, 0, 1])
    expect(gap(rod([0, 0, 40], [300, 0, 40], 8), floor).gap).toBeCloseTo(42, 9)
    expect(gap(rod([0, 0, -20], [300, 0, -20], 8), floor).gap).toBeCloseTo(-18, 9)
  })

  test('a rod past a cylinder’s flat end comes nearest to its rim', () => {
    // Cylinder along z, half length 50, radius 30. Rod along y at x = 70, z = 80: √(40² + 30²) − 5 = 45.
    const g = gap(rod([70, -200, 80], [70, 200, 80], 5), cylinder([0, 0, 0], [0, 0, 1], 100, 30))
    expect(Math.abs(g.gap - 45)).toBeLessThanOrEqual(g.errorBound)
  })

  test('a cut end coaxial with a sphere is apart along the axis', () => {
    const g = gap(rod([0, 0, 0], [100, 0, 0], 6), sphere([150, 0, 0], 20))
    expect(Math.abs(g.gap - 30)).toBeLessThanOrEqual(g.errorBound)
  })
})

describe('against dense sampling', () => {
  const seed = 907
  test(`160 random tubes and solids are never optimistic and within the stated bound (seed ${seed})`, () => {
    const random = seeded(seed)
    let apart = 0
    for (let k = 0; k < 160; k++) {
      const clr = random.between(15, 55)
      const tube = sweep(
        randomShapes(random.next, random.whole(0, 3), [0, 0, 0], clr),
        clr * random.between(0.15, 0.45),
      )
      const at: Vec3 = [random.between(-140, 140), random.between(-140, 140), random.between(-140, 140)]
      const solid = randomConvex(random, at, k)
      const g = gap(tube, solid.shape)
      const sampled = sampledDistance(tube, solid.plainDistance)
      if (sampled > 0.001) {
        apart++
        expect(g.errorBound, `pair ${k}`).toBeLessThanOrEqual(0.01)
        expect(g.gap, `pair ${k}: optimistic`).toBeLessThanOrEqual(sampled + g.errorBound)
        expect(g.gap, `pair ${k}: too near`).toBeGreaterThan(sampled - 0.01)
        expect(pointToTube(g.pointA, tube), `pair ${k}: point A off the tube`).toBeLessThan(0.001)
        expect(solid.plainDistance(g.pointB), `pair ${k}: point B off the solid`).toBeLessThan(0.001)
        expect(Math.abs(distance(g.pointA, g.pointB) - g.gap)).toBeLessThan(1e-6)
      } else expect(g.gap, `pair ${k}: overlap missed`).toBeLessThan(0.01)
    }
    expect(apart).toBeGreaterThan(80)
  })
})

/** A random solid with a distance (0 inside) worked out here by coordinates, apart from the code under test. */
function randomConvex(
  random: ReturnType<typeof seeded>,
  at: Vec3,
  k: number,
): { shape: Convex; plainDistance: (p: Vec3) => number } {
  const size = () => random.between(20, 120)
  const over = (x: number) => Math.max(x, 0)
  if (k % 4 === 0) {
    const edges: Vec3 = [size(), size(), size()]
    const turn: Vec3 = [random.between(-180, 180), random.between(-180, 180), random.between(-180, 180)]
    const axes = turnedAxes(turn)
    const plainDistance = (p: Vec3) =>
      Math.hypot(...axes.map((axis, i) => over(Math.abs(dot(sub(p, at), axis)) - edges[i]! / 2)))
    return { shape: box(at, edges, turn), plainDistance }
  }
  if (k % 4 === 1) {
    const axis = random.direction()
    const [height, radius] = [size(), size() / 2]
    const plainDistance = (p: Vec3) => {
      const r = sub(p, at)
      const h = dot(r, axis)
      return Math.hypot(
        over(Math.abs(h) - height / 2),
        over(distance(r, addScaled([0, 0, 0], axis, h)) - radius),
      )
    }
    return { shape: cylinder(at, axis, height, radius), plainDistance }
  }
  if (k % 4 === 2) {
    const radius = size() / 2
    return { shape: sphere(at, radius), plainDistance: p => over(distance(p, at) - radius) }
  }
  const normal = random.direction()
  const foot = addScaled([0, 0, 0], normal, -random.between(80, 250))
  return { shape: halfSpace(foot, normal), plainDistance: p => over(dot(sub(p, foot), normal)) }
}
