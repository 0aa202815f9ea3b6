import { expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { SkidDocument, Solid } from '../../src/document/types.ts'
import { nearestOnTree } from '../../src/geometry/nearestOnTree.ts'
import { triangleAt, triangleTree } from '../../src/geometry/triangleTree.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { SPACE } from '../../src/view/scene/flat.ts'
import { pointLimits } from '../../src/view/scene/pointLimits.ts'
import { snap } from '../../src/view/scene/snaps.ts'
import { surfaceSnaps } from '../../src/view/scene/surfaceSnaps.ts'
import { sampleModel } from '../document/sampleModel.ts'
import { boxMesh } from '../geometry/boxMesh.ts'
import { seeded } from '../random.ts'
import { waveMesh } from '../skid/waveMesh.ts'

const OD = 12
const model = sampleModel('m1', { name: 'Pump', fileName: 'pump.stl', at: [1000, 0, 0], turn: [0, 0, 90] })
const base = { kind: 'equipment' as const, fitting: null }
const drum: Solid = {
  ...base,
  id: 'd',
  name: 'Drum',
  shape: 'cylinder',
  at: [0, 0, 0],
  axis: [0, 0, 1],
  length: 400,
  radius: 80,
}
const skid = (more: Partial<SkidDocument>): SkidDocument => ({ ...emptyDocument('x'), ...more })
// Turned a quarter about z: on the skid it is 100 along x, 200 along y.
const parts = [{ key: 'casing', names: ['casing'], tree: boxMesh([-100, -50, -50], [100, 50, 50]) }]
const shown = (document: SkidDocument, more = {}) =>
  surfaceSnaps({ document, treesOf: () => parts, hidden: new Set<string>(), section: null, ...more })
/** Looking along +y and a bit down. */
const view: Vec3 = [0, 0.8, -0.6]
const withModel = skid({ models: [model] })
const drop = (p: Vec3, flat = SPACE, document = withModel, more = {}) =>
  snap(p, flat, shown(document, more)(p, flat, OD, 9, view), 9)

test('near a face of a model the tube comes to rest on it with its outside, where the model stands', () => {
  // The top is at z 50: the centre line 6 over it.
  const got = drop([1010, 20, 60])
  expect(got.point).toEqual([1010, 20, 56].map(x => expect.closeTo(x, 9)))
  expect(got.names).toEqual(['on a face of Pump: casing'])
  expect(got.guides[0]!.from[2]).toBeCloseTo(50, 9)
})

test('a point dipped into the face is lifted out on the side that is seen', () => {
  expect(drop([1010, 20, 48]).point[2]).toBeCloseTo(56, 9)
})

test('a drag keeps its plane and its axis', () => {
  const held = drop([1060, -30, 20], pointLimits([1060, -30, 20], 'z', null, {}))
  expect(held.point).toEqual([1056, -30, 20].map(x => expect.closeTo(x, 9)))
  const along = drop([1060, -30, 20], pointLimits([1060, -30, 20], 'z', 'x', {}))
  expect(along.point[0]).toBeCloseTo(1056, 9)
  // Along y alone it cannot come nearer to that face.
  expect(drop([1060, -30, 20], pointLimits([1060, -30, 20], 'z', 'y', {})).names).toEqual([])
})

test('out of reach, hidden, cut away, a floor or a space to keep free: nothing pulls', () => {
  expect(drop([1010, 20, 66]).names).toEqual([])
  const near: Vec3 = [1010, 20, 60]
  expect(drop(near, SPACE, withModel, { hidden: new Set(['m1/casing']) }).names).toEqual([])
  expect(drop(near, SPACE, withModel, { hidden: new Set(['m1']) }).names).toEqual([])
  expect(drop(near, SPACE, withModel, { section: { at: [0, 0, 40], normal: [0, 0, 1] } }).names).toEqual([])
  for (const kind of ['floor', 'keepOut'] as const)
    expect(drop(near, SPACE, skid({ models: [{ ...model, kind }] })).names).toEqual([])
})

test('on a drum it rests on the round, not on the plane that touched it first', () => {
  const flat = pointLimits([70, 60, 10], 'z', 'x', {})
  const got = drop([70, 60, 10], flat, skid({ solids: [drum] }))
  expect(got.names).toEqual(['on a face of Drum'])
  expect(got.point[1]).toBe(60)
  // To a thousandth of what a drawing shows, however it was come at.
  expect(Math.hypot(got.point[0], got.point[1])).toBeCloseTo(80 + OD / 2, 4)
})

const SEED = 5150
test(`the nearest place of a mesh is what looking at every triangle finds (seed ${SEED})`, () => {
  const random = seeded(SEED)
  const { positions, indices } = waveMesh(16, 200)
  const tree = triangleTree(positions, indices)
  const one = (i: number) => triangleTree(triangleAt(tree, i).flat(), null)
  for (let k = 0; k < 40; k++) {
    const p: Vec3 = [random.between(-150, 150), random.between(-150, 150), random.between(-80, 80)]
    const found = nearestOnTree(tree, p, Infinity)!
    let least = Infinity
    for (let i = 0; i < indices.length / 3; i++)
      least = Math.min(least, nearestOnTree(one(i), p, Infinity)!.distance)
    expect(found.distance).toBeCloseTo(least, 9)
    expect(distance(p, found.point)).toBeCloseTo(found.distance, 9)
    expect(nearestOnTree(tree, p, found.distance)).toBeNull()
  }
})

test('a skin of 500,000 triangles is rested on like a small one', () => {
  const { positions, indices } = waveMesh(500, 1500)
  const tree = triangleTree(positions, indices)
  const big = surfaceSnaps({
    document: withModel,
    treesOf: () => [{ key: 'skin', names: ['skin'], tree }],
    hidden: new Set<string>(),
    section: null,
  })
  const random = seeded(SEED + 1)
  const asked = () => {
    const p: Vec3 = [1000 + random.between(-500, 500), random.between(-500, 500), random.between(-30, 40)]
    return big(p, SPACE, OD, 9, view)
  }
  let found = 0
  for (let k = 0; k < 200; k++) found += asked().length
  expect(found).toBeGreaterThan(20)
})
