import { describe, expect, test } from 'vitest'
import { box } from '../../src/geometry/convex.ts'
import { isInside } from '../../src/geometry/insideMesh.ts'
import { sweep } from '../../src/geometry/swept.ts'
import { sweptConvexGap } from '../../src/geometry/sweptConvexGap.ts'
import { sweptMeshGap } from '../../src/geometry/sweptMeshGap.ts'
import { type TriangleTree, triangleAt, triangleTree } from '../../src/geometry/triangleTree.ts'
import { distance, sub, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import { type Random, seeded } from '../random.ts'
import { boxMesh } from './boxMesh.ts'
import { pointToTube, randomShapes } from './sampledTube.ts'

const rod = (start: Vec3, end: Vec3, radius: number) =>
  sweep([{ kind: 'line', start, end, direction: unit(sub(end, start))! }], radius)

/** Distance from a point to a triangle by its own way: nested search over the triangle's two weights. */
function pointToTriangle(p: Vec3, [a, b, c]: readonly [Vec3, Vec3, Vec3]): number {
  const at = (s: number, t: number): number =>
    distance(p, [
      a[0] + (b[0] - a[0]) * s + (c[0] - a[0]) * t,
      a[1] + (b[1] - a[1]) * s + (c[1] - a[1]) * t,
      a[2] + (b[2] - a[2]) * s + (c[2] - a[2]) * t,
    ])
  // Convex in (s, t): golden sections inside golden sections.
  const golden = (f: (x: number) => number, high: number): number => {
    let [lo, hi] = [0, high]
    const g = (Math.sqrt(5) - 1) / 2
    for (let k = 0; k < 34; k++) {
      const [x, y] = [hi - g * (hi - lo), lo + g * (hi - lo)]
      if (f(x) <= f(y)) hi = y
      else lo = x
    }
    return f((lo + hi) / 2)
  }
  return golden(s => golden(t => at(s, t), 1 - s), 1)
}

const soup = (random: Random, count: number, side: number): TriangleTree => {
  const corner = () => random.between(-side / 2, side / 2)
  const positions: number[] = []
  for (let k = 0; k < count; k++) {
    const at = [corner() + side, corner(), corner()]
    for (let i = 0; i < 9; i++) positions.push(at[i % 3]! + random.between(-25, 25))
  }
  return triangleTree(positions, null)
}

describe('closed forms', () => {
  test('a rod along a mesh face is apart by its height less its radius, and negative once it dips in', () => {
    const mesh = boxMesh([-100, -100, -50], [100, 100, 0])
    expect(sweptMeshGap(rod([-80, 5, 30], [80, 5, 30], 6), mesh, Infinity)!.gap).toBeCloseTo(24, 9)
    expect(sweptMeshGap(rod([-80, 5, 4], [80, 5, 4], 6), mesh, Infinity)!.gap).toBeCloseTo(-2, 9)
    expect(sweptMeshGap(rod([-80, 5, -90], [80, 5, 90], 6), mesh, Infinity)!.gap).toBeCloseTo(-6, 9)
  })

  test('a cut end over a mesh face is flat', () => {
    const mesh = boxMesh([-100, -100, -50], [100, 100, 0])
    const g = sweptMeshGap(rod([0, 0, 12], [0, 0, 90], 9), mesh, Infinity)!
    expect(Math.abs(g.gap - 12)).toBeLessThanOrEqual(g.errorBound)
    expect(g.errorBound).toBeLessThanOrEqual(0.01)
  })

  test('beyond the limit there is no answer', () => {
    const mesh = boxMesh([-100, -100, -50], [100, 100, 0])
    expect(sweptMeshGap(rod([-80, 5, 30], [80, 5, 30], 6), mesh, 24)).toBeNull()
  })

  test('a point is inside a closed mesh, outside, or undecided when a side is missing', () => {
    const mesh = boxMesh([0, 0, 0], [10, 20, 30])
    expect(isInside(mesh, [5, 5, 5])).toBe(true)
    expect(isInside(mesh, [5, 25, 5])).toBe(false)
    const open = triangleTree(mesh.corners.slice(0, 90), null)
    expect([5, 9.5].map(x => isInside(open, [x, 10, 5]))).toContain(null)
  })
})

test('over and under one open sheet there is no inside', () => {
  const sheet = triangleTree([-1e4, -1e4, 0, 1e4, -1e4, 0, 0, 2e4, 0], null)
  for (const z of [-3, 3]) expect(isInside(sheet, [1, 2, z])).not.toBe(true)
})

test('a pipe without ends has no inside, one with ends has', () => {
  const [n, r, l] = [48, 50, 300]
  const at = (k: number, z: number): Vec3 => {
    const t = (2 * Math.PI * k) / n
    return [r * Math.cos(t), r * Math.sin(t), z]
  }
  const each = (make: (k: number) => Vec3[]) => Array.from({ length: n }, (_, k) => make(k)).flat(2)
  const wall = each(k => [at(k, -l), at(k + 1, -l), at(k, l), at(k + 1, -l), at(k + 1, l), at(k, l)])
  const lids = each(k => [at(k + 1, -l), at(k, -l), [0, 0, -l], at(k, l), at(k + 1, l), [0, 0, l]])
  for (const p of [
    [0, 0, 0],
    [20, -13, 150],
  ] as const) {
    expect(isInside(triangleTree(wall, null), p)).not.toBe(true)
    expect(isInside(triangleTree([...wall, ...lids], null), p)).toBe(true)
  }
})

test('what is no mesh is refused by name', () => {
  expect(() => triangleTree([0, 0, 0, 1, 0, 0], null)).toThrow(/wanted whole triangles/)
  expect(() => triangleTree([], null)).toThrow(/found no triangles/)
  expect(() => triangleTree([0, 0, 0, 1, 0, 0, 0, 1, 0], [0, 1, 3])).toThrow(/found vertex 3 at corner 2/)
  expect(() => triangleTree([0, 0, 0, 1, Number.NaN, 0, 0, 1, 0], null)).toThrow(/found coordinate NaN/)
})

const SEED = 606
test(`60 random tubes: a box as a mesh is as near as the box itself (seed ${SEED})`, () => {
  const random = seeded(SEED)
  for (let k = 0; k < 60; k++) {
    const clr = random.between(15, 50)
    const tube = sweep(randomShapes(random.next, random.whole(0, 4), [0, 0, 0], clr), clr * 0.25)
    const low: Vec3 = [random.between(60, 200), random.between(-100, 60), random.between(-100, 60)]
    const size: Vec3 = [random.between(20, 150), random.between(20, 150), random.between(20, 150)]
    const high: Vec3 = [low[0] + size[0], low[1] + size[1], low[2] + size[2]]
    const middle: Vec3 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2]
    const exact = sweptConvexGap(tube, box(middle, size, [0, 0, 0]), Infinity)!
    const mesh = sweptMeshGap(tube, boxMesh(low, high), Infinity)!
    if (exact.gap < 0) expect(mesh.gap, `tube ${k}`).toBeLessThan(0.01)
    else {
      expect(mesh.errorBound, `tube ${k}`).toBeLessThanOrEqual(0.01)
      expect(Math.abs(mesh.gap - exact.gap), `tube ${k}`).toBeLessThanOrEqual(
        mesh.errorBound + exact.errorBound,
      )
    }
  }
})

test(`12 random tubes against loose triangles are never optimistic by dense sampling (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  let apart = 0
  for (let k = 0; k < 12; k++) {
    const clr = random.between(20, 40)
    const tube = sweep(randomShapes(random.next, random.whole(0, 3), [0, 0, 0], clr), clr * 0.25)
    const mesh = soup(random, 12, 150)
    const g = sweptMeshGap(tube, mesh, Infinity)!
    // Only the triangles that could matter are sampled: those whose corner is near the found distance.
    const triangles = Array.from({ length: 12 }, (_, i) => triangleAt(mesh, i)).filter(
      t => Math.min(...t.map(p => pointToTube(p, tube))) < Math.max(g.gap, 0) + 50,
    )
    if (g.gap < 0.01) continue
    apart++
    // From the triangles' side: a grid of their points, exact to the tube.
    let sampled = Infinity
    for (const [a, b, c] of triangles)
      for (let i = 0; i <= 60; i++)
        for (let j = 0; j + i <= 60; j++) {
          const [s, t] = [i / 60, j / 60]
          const p: Vec3 = [0, 1, 2].map(
            n => a[n]! + (b[n]! - a[n]!) * s + (c[n]! - a[n]!) * t,
          ) as unknown as Vec3
          sampled = Math.min(sampled, pointToTube(p, tube))
        }
    expect(g.gap, `tube ${k}: optimistic`).toBeLessThanOrEqual(sampled + g.errorBound)
    expect(g.errorBound, `tube ${k}`).toBeLessThanOrEqual(0.01)
    // The nearest points are on both outsides, so the figure is attained and not too near either.
    expect(pointToTube(g.pointA, tube), `tube ${k}: point A`).toBeLessThan(1e-3)
    expect(pointToTriangle(g.pointB, triangleAt(mesh, g.shapeB)), `tube ${k}: point B`).toBeLessThan(1e-3)
    expect(Math.abs(distance(g.pointA, g.pointB) - g.gap)).toBeLessThan(1e-6)
  }
  expect(apart).toBeGreaterThan(6)
})

test(`one tube and 300 loose triangles: the tree misses none (seed ${SEED + 2})`, () => {
  const random = seeded(SEED + 2)
  for (let k = 0; k < 20; k++) {
    const tube = sweep(randomShapes(random.next, random.whole(1, 4), [0, 0, 0], 30), 8)
    const mesh = soup(random, 300, 200)
    const all = sweptMeshGap(tube, mesh, Infinity)!
    let least = Infinity
    for (let i = 0; i < 300; i++)
      least = Math.min(
        least,
        sweptMeshGap(tube, triangleTree(triangleAt(mesh, i).flat(), null), Infinity)!.gap,
      )
    expect(Math.abs(all.gap - least)).toBeLessThanOrEqual(all.errorBound + 0.003)
  }
})
