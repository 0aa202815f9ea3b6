import { expect, test } from 'vitest'
import { sweep } from '../../../src/geometry/swept.ts'
import {
  boundsOfTree,
  type TriangleTree,
  triangleAt,
  triangleTree,
} from '../../../src/geometry/triangleTree.ts'
import { distance, turnAbout, type Vec3 } from '../../../src/geometry/vec3.ts'
import { modelTrees } from '../../../src/skid/models/modelTrees.ts'
import { placedTubes } from '../../../src/skid/models/placedTubes.ts'
import { placedBounds, placedFrame } from '../../../src/skid/models/placement.ts'
import { tubeMeshGap, tubePlacedMeshGap } from '../../../src/skid/tubeMeshGap.ts'
import { pointToTube, randomShapes } from '../../geometry/sampledTube.ts'
import { type Random, seeded } from '../../random.ts'

const rad = (degrees: number) => (degrees * Math.PI) / 180

/** A lopsided heap of triangles, in a file's own units, that no turn brings onto itself. */
function lopsided(random: Random, unitMm: number) {
  const positions: number[] = []
  for (let k = 0; k < 40; k++) {
    const at = [random.between(0, 160), random.between(-40, 90), random.between(-25, 60)]
    for (let i = 0; i < 9; i++) positions.push((at[i % 3]! + random.between(-18, 18)) / unitMm)
  }
  const indices = Uint32Array.from({ length: 120 }, (_, i) => i)
  return { key: 'heap', names: ['heap'], positions: Float64Array.from(positions), indices }
}

/** The oracle's own way to the skid: unit, then the axis that is up, then turns about x, y and z one by one, then the shift. */
function onSkid(p: Vec3, unitMm: number, up: 'y' | 'z', turn: Vec3, at: Vec3): Vec3 {
  let q: Vec3 = [p[0] * unitMm, p[1] * unitMm, p[2] * unitMm]
  if (up === 'y') q = turnAbout(q, [0, 0, 0], [1, 0, 0], Math.PI / 2)
  q = turnAbout(q, [0, 0, 0], [1, 0, 0], rad(turn[0]))
  q = turnAbout(q, [0, 0, 0], [0, 1, 0], rad(turn[1]))
  q = turnAbout(q, [0, 0, 0], [0, 0, 1], rad(turn[2]))
  return [q[0] + at[0], q[1] + at[1], q[2] + at[2]]
}

/** Least distance from points strewn over the triangles to the tube: never below the true one. */
function sampled(tree: TriangleTree, tube: Parameters<typeof pointToTube>[1]): number {
  const N = 14
  let least = Number.POSITIVE_INFINITY
  for (let t = 0; t < tree.corners.length / 9; t++) {
    const [a, b, c] = triangleAt(tree, t)
    for (let i = 0; i <= N; i++)
      for (let j = 0; j <= N - i; j++) {
        const [u, v] = [i / N, j / N]
        const p = [0, 1, 2].map(k => a[k]! + u * (b[k]! - a[k]!) + v * (c[k]! - a[k]!))
        least = Math.min(least, pointToTube(p as unknown as Vec3, tube))
      }
  }
  return least
}

const SEED = 4711
test(`a model in any unit, axis, place and turn is as near as its triangles brought there before (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let apart = 0
  for (let k = 0; k < 40; k++) {
    const unitMm = [1, 10, 25.4, 1000][k % 4]!
    const up = k % 3 === 0 ? 'y' : 'z'
    const turn: Vec3 = [random.between(-180, 180), random.between(-180, 180), random.between(-180, 180)]
    const at: Vec3 = [random.between(-300, 300), random.between(-300, 300), random.between(-300, 300)]
    const part = lopsided(random, unitMm)
    const { tree } = modelTrees({ parts: [part] }, unitMm, up)[0]!
    const before: number[] = []
    for (let i = 0; i < part.positions.length; i += 3) {
      const p: Vec3 = [part.positions[i]!, part.positions[i + 1]!, part.positions[i + 2]!]
      before.push(...onSkid(p, unitMm, up, turn, at))
    }
    const there = triangleTree(before, part.indices)
    const clr = random.between(15, 40)
    const origin: Vec3 = [at[0] + random.between(-150, 150), at[1] + random.between(-150, 150), at[2]]
    const tube = sweep(randomShapes(random.next, random.whole(0, 4), origin, clr), clr * 0.25)
    const placed = placedTubes({ at, turn })
    const mine = tubePlacedMeshGap(tube, { tree, placed }, Number.POSITIVE_INFINITY)!
    const wanted = tubeMeshGap(tube, there, Number.POSITIVE_INFINITY)!
    // Bends and cut ends are known within their bounds; the rest is exact.
    const bound = mine.errorBound + wanted.errorBound
    expect(bound, `tube ${k}`).toBeLessThanOrEqual(0.02)
    expect(Math.abs(mine.gap - wanted.gap), `tube ${k}`).toBeLessThanOrEqual(bound + 1e-9)
    if (mine.gap <= 0) continue
    apart++
    expect(distance(mine.pointA, mine.pointB), `tube ${k}`).toBeCloseTo(mine.gap, 6)
    expect(mine.gap - mine.errorBound, `tube ${k}`).toBeLessThanOrEqual(sampled(there, tube) + 1e-9)
  }
  expect(apart).toBeGreaterThan(15)
})

test(`straight tubes, whose figures have no error of their own, agree to 1e-9 mm (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  for (let k = 0; k < 60; k++) {
    const turn: Vec3 = [random.between(-180, 180), random.between(-180, 180), random.between(-180, 180)]
    const at: Vec3 = [random.between(-2000, 2000), random.between(-2000, 2000), random.between(-500, 500)]
    const part = lopsided(random, 1)
    const { tree } = modelTrees({ parts: [part] }, 1, 'z')[0]!
    const before = [...part.positions.keys()]
      .filter(i => i % 3 === 0)
      .flatMap(i =>
        onSkid([part.positions[i]!, part.positions[i + 1]!, part.positions[i + 2]!], 1, 'z', turn, at),
      )
    const origin: Vec3 = [at[0] + 80, at[1] + random.between(-150, 150), at[2] + random.between(100, 200)]
    // So long that its cut ends, the only thing with a bound, are far away.
    const d = random.direction()
    const long = (t: number): Vec3 => [origin[0] + t * d[0], origin[1] + t * d[1], origin[2] + t * d[2]]
    const tube = sweep([{ kind: 'line', start: long(-900), end: long(900), direction: d }], 5)
    const mine = tubePlacedMeshGap(
      tube,
      { tree, placed: placedTubes({ at, turn }) },
      Number.POSITIVE_INFINITY,
    )!
    const wanted = tubeMeshGap(tube, triangleTree(before, part.indices), Number.POSITIVE_INFINITY)!
    expect(Math.abs(mine.gap - wanted.gap), `tube ${k}`).toBeLessThan(1e-9)
  }
})

test(`a placed frame goes there and back, and its bounds hold every corner (seed ${SEED + 2})`, () => {
  const random = seeded(SEED + 2)
  let off = 0
  let outside = 0
  for (let k = 0; k < 50; k++) {
    const turn: Vec3 = [random.between(-180, 180), random.between(-180, 180), random.between(-180, 180)]
    const at: Vec3 = [random.between(-5000, 5000), random.between(-5000, 5000), random.between(-5000, 5000)]
    const frame = placedFrame({ at, turn })
    const part = lopsided(random, 1)
    const { low, high } = placedBounds(boundsOfTree(triangleTree(part.positions, part.indices)), frame)
    for (let i = 0; i < part.positions.length; i += 3) {
      const p: Vec3 = [part.positions[i]!, part.positions[i + 1]!, part.positions[i + 2]!]
      const q = frame.toSkid(p)
      off = Math.max(off, distance(q, onSkid(p, 1, 'z', turn, at)), distance(frame.toModel(q), p))
      if (q.some((x, a) => x < low[a]! || x > high[a]!)) outside++
    }
  }
  expect(off).toBeLessThan(1e-9)
  expect(outside).toBe(0)
})
