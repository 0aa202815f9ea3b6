import { describe, expect, test } from 'vitest'
import { box, type Convex, cylinder, halfSpace, sphere } from '../../src/geometry/convex.ts'
import { convexMeshGap } from '../../src/geometry/convexMeshGap.ts'
import { leastOnTriangle, type Triangle } from '../../src/geometry/leastOnTriangle.ts'
import { type TriangleTree, triangleAt, triangleTree } from '../../src/geometry/triangleTree.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { type Random, seeded } from '../random.ts'
import { boxMesh } from './boxMesh.ts'

const gapOf = (solid: Convex, mesh: TriangleTree) => convexMeshGap(solid, mesh, Infinity)!

describe('closed forms', () => {
  const mesh = boxMesh([-100, -100, -50], [100, 100, 0])
  test.each([
    // Ends above the face at z = 0 by what is left of the height.
    ['a box flat over a face', box([0, 0, 30], [40, 20, 10], [0, 0, 0]), 25],
    // A cube of 20 stood on its edge reaches 10√2 down.
    ['a box on its edge over a face', box([0, 0, 30], [20, 20, 20], [45, 0, 0]), 30 - 10 * Math.SQRT2],
    // Edge to edge at the top rim x = 100, z = 0: 30 out and 40 up from there.
    ['a box diagonally off an edge', box([135, 0, 45], [10, 50, 10], [0, 0, 0]), 50],
    ['a cylinder lying over a face', cylinder([0, 0, 30], [1, 0, 0], 80, 12), 18],
    ['a cylinder standing over a face', cylinder([0, 0, 30], [0, 0, 1], 20, 12), 20],
    // Rim to corner (100, 100, 0): the axis passes it at 30√2; 7 up.
    ['a disc over a corner', cylinder([130, 130, 7], [0, 0, 1], 0, 10), Math.hypot(30 * Math.SQRT2 - 10, 7)],
    ['a ball over a face', sphere([3, 4, 30], 12), 18],
    ['a ball off a corner', sphere([112, 115, 16], 5), 20],
    ['a floor under it', halfSpace([0, 0, -70], [0, 0, 1]), 20],
    ['a slanted wall', halfSpace([200, 0, 0], [-0.6, 0, -0.8]), 0.6 * 100],
    // Overlaps: how deep the surface reaches into the solid.
    ['a box that dips 4 into a face', box([0, 0, 6], [40, 30, 20], [0, 0, 0]), -4],
    ['a lying cylinder that dips 5 into a face', cylinder([0, 0, 7], [1, 0, 0], 80, 12), -5],
    ['a ball that dips 5 into a face', sphere([3, 4, 7], 12), -5],
    ['a ball with its middle on a face', sphere([3, 4, 0], 12), -12],
    ['a wall with the rim 30 behind it', halfSpace([70, 0, 0], [-1, 0, 0]), -30],
    // The whole mesh lies in the box; a corner of it lies least deep and the middle of a face … the middle of z = −50
    // is 150 deep under z = −200, and so is nothing deeper: its edges are nearer to the walls at ±200.
    ['a box that holds the mesh', box([0, 0, 0], [400, 400, 400], [0, 0, 0]), -200],
    ['a plate that the mesh crosses', box([0, 0, -5], [40, 30, 0], [20, 30, 40]), 0],
  ] as const)('%s', (_, solid, wanted) => {
    const found = gapOf(solid, mesh)
    expect(Math.abs(found.gap - wanted)).toBeLessThanOrEqual(found.errorBound)
    expect(found.errorBound).toBeLessThanOrEqual(1e-6)
  })

  test('beyond the limit there is no answer', () => {
    expect(convexMeshGap(sphere([0, 0, 30], 12), mesh, 18)).toBeNull()
    expect(convexMeshGap(sphere([0, 0, 30], 12), mesh, 18.001)!.gap).toBeCloseTo(18, 6)
  })
})

const anySolid = (random: Random, reach: number): Convex => {
  const at: Vec3 = [
    random.between(-reach, reach),
    random.between(-reach, reach),
    random.between(-reach, reach),
  ]
  const size = () => random.between(10, 120)
  const turn = () => random.between(-180, 180)
  switch (random.whole(0, 3)) {
    case 0:
      return box(at, [size(), size(), size()], [turn(), turn(), turn()])
    case 1:
      return cylinder(at, random.direction(), size(), size() / 2)
    case 2:
      return sphere(at, size() / 2)
    default:
      return halfSpace(at, random.direction())
  }
}

/** Slivers, grains and sheets: whatever a tessellation comes up with. */
function anyTriangle(random: Random): Triangle {
  const at: Vec3 = [random.between(-60, 60), random.between(-60, 60), random.between(-60, 60)]
  const long = 10 ** random.between(-1.5, 2.5)
  const thin = long * 10 ** random.between(-5, 0)
  const [d, e] = [random.direction(), random.direction()]
  const off = (s: number, t: number): Vec3 =>
    [0, 1, 2].map(k => at[k]! + d[k]! * s + e[k]! * t) as unknown as Vec3
  return [at, off(long, 0), off(long * random.next(), thin)]
}

const pointIn = ([p, q, r]: Triangle, s: number, t: number): Vec3 =>
  [0, 1, 2].map(k => p[k]! + (q[k]! - p[k]!) * s + (r[k]! - p[k]!) * t) as unknown as Vec3

/** The least value over a triangle in its own way: golden sections within golden sections of a convex function. */
function leastBySections(solid: Convex, triangle: Triangle): number {
  const golden = (f: (x: number) => number, high: number): number => {
    let [lo, hi] = [0, high]
    let least = Math.min(f(lo), f(hi))
    const g = (Math.sqrt(5) - 1) / 2
    for (let k = 0; k < 40; k++) {
      const [x, y] = [hi - g * (hi - lo), lo + g * (hi - lo)]
      const [fx, fy] = [f(x), f(y)]
      least = Math.min(least, fx, fy)
      if (fx <= fy) hi = y
      else lo = x
    }
    return least
  }
  return golden(s => golden(t => solid.signedDistance(pointIn(triangle, s, t)).value, 1 - s), 1)
}

const SEED = 2511
test(`400 solids on single triangles, slivers among them: the least, inside and out (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let deep = 0
  for (let k = 0; k < 400; k++) {
    const solid = anySolid(random, 60)
    const triangle = anyTriangle(random)
    const { value, lower, point } = leastOnTriangle(solid, triangle, 2e-7)
    const judge = leastBySections(solid, triangle)
    expect(lower, `pair ${k}: optimistic`).toBeLessThanOrEqual(judge + 1e-9)
    expect(value, `pair ${k}: not the least`).toBeLessThanOrEqual(judge + 1e-5)
    expect(value - lower, `pair ${k}: bound`).toBeLessThanOrEqual(1e-5)
    expect(Math.abs(solid.signedDistance(point).value - value)).toBeLessThan(1e-9)
    if (value < -0.1) deep++
  }
  expect(deep).toBeGreaterThan(80)
})

const soup = (random: Random, count: number): TriangleTree =>
  triangleTree(Array.from({ length: count }, () => anyTriangle(random)).flat(2), null)

test(`60 solids on 200 loose triangles are never optimistic by dense sampling (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  for (let k = 0; k < 60; k++) {
    const mesh = soup(random, 200)
    const solid = anySolid(random, 250)
    const found = gapOf(solid, mesh)
    expect(found.errorBound, `scene ${k}`).toBeLessThanOrEqual(1e-4)
    let sampled = Infinity
    for (let i = 0; i < 200; i++)
      for (let n = 0; n < 60; n++) {
        const [s, t] = [random.next(), random.next()]
        const p = pointIn(triangleAt(mesh, i), s + t > 1 ? 1 - s : s, s + t > 1 ? 1 - t : t)
        sampled = Math.min(sampled, solid.signedDistance(p).value)
      }
    expect(found.gap, `scene ${k}: optimistic`).toBeLessThanOrEqual(sampled + found.errorBound)
    // Attained: both points lie where they say.
    expect(Math.abs(solid.signedDistance(found.pointB).value - found.gap)).toBeLessThan(1e-9)
    expect(Math.abs(solid.signedDistance(found.pointA).value)).toBeLessThan(1e-7)
    expect(distance(found.pointA, found.pointB)).toBeCloseTo(Math.abs(found.gap), 7)
  }
})

test(`two hundred metres from the origin nothing but rounding changes (seed ${SEED + 2})`, () => {
  const random = seeded(SEED + 2)
  for (let k = 0; k < 20; k++) {
    const mesh = soup(random, 60)
    const at: Vec3 = [random.between(-200, 200), 150, 90]
    const far: Vec3 = [1e5, -2e5, 3e4]
    const moved = triangleTree(
      mesh.corners.map((x, i) => x + far[i % 3]!),
      null,
    )
    const ball = (p: Vec3) => box(p, [30, 40, 50], [10, 20, 30])
    const near = gapOf(ball(at), mesh)
    const away = gapOf(ball([at[0] + far[0], at[1] + far[1], at[2] + far[2]]), moved)
    expect(Math.abs(near.gap - away.gap)).toBeLessThanOrEqual(near.errorBound + away.errorBound)
  }
})

test(`square to its end but for rounding, a cylinder's furthest point is still on its end (seed ${SEED + 3})`, () => {
  const random = seeded(SEED + 3)
  for (let k = 0; k < 4000; k++) {
    const axis = random.direction()
    const solid = cylinder([40, -20, 10], axis, 60, 50)
    const size = 10 ** random.between(-6, 3)
    const off = random.direction()
    const lean = size * 10 ** random.between(-17, -6)
    const way = axis.map((x, i) => x * size + off[i]! * lean) as unknown as Vec3
    expect(Math.abs(solid.signedDistance(solid.support!(way)).value)).toBeLessThan(1e-9)
  }
})
