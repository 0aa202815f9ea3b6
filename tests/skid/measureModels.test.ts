import { BufferGeometry, Float32BufferAttribute, Matrix4 } from 'three'
import { MeshBVH } from 'three-mesh-bvh'
import { expect, test } from 'vitest'
import type { SkidDocument, Solid } from '../../src/document/types.ts'
import { triangleTree } from '../../src/geometry/triangleTree.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import type { Thing } from '../../src/skid/measurable.ts'
import { type Measured, measureBetween } from '../../src/skid/measureBetween.ts'
import { type Placement, placedFrame } from '../../src/skid/models/placement.ts'
import type { MeshBody } from '../../src/skid/parts.ts'
import { shapeOfSolid } from '../../src/skid/solidShape.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { cadKernel } from '../cadKernel.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'
import { sampleModel } from '../document/sampleModel.ts'
import { boxMesh } from '../geometry/boxMesh.ts'
import { type Random, seeded } from '../random.ts'
import { cadDistance, cadSolid } from './cadDistance.ts'
import { randomPlace, randomSolid } from './randomScene.ts'
import { waveMesh } from './waveMesh.ts'

const skid = (more: Partial<SkidDocument>): SkidDocument => ({ ...documentOf([]), ...more })
const body = (id: string, tree: MeshBody['tree'], placement?: Placement): MeshBody => ({
  id,
  name: `Part ${id}`,
  kind: 'equipment',
  fitting: null,
  tree,
  ...(placement && { placement }),
})
const base = { kind: 'equipment' as const, fitting: null }
const solid = (id: string): Thing => ({ kind: 'solid', solid: id })
const part = (id: string): Thing => ({ kind: 'model', model: id })

function found(document: SkidDocument, a: Thing, b: Thing, meshes: readonly MeshBody[]) {
  return measureBetween(document, solveDocument(document), a, b, meshes)
}
function measured(...args: Parameters<typeof found>): Measured {
  const m = found(...args)
  if ('refused' in m) throw new Error(m.refused)
  return m
}

// A housing of 200 × 100 × 50 about the file's origin, stood on end: its x points up at (1000, 0, 300).
const housing = body('m1/h', boxMesh([-100, -50, -25], [100, 50, 25]), {
  at: [1000, 0, 300],
  turn: [0, -90, 0],
})
const scene = skid({
  models: [sampleModel('m1')],
  runs: [
    runOf('r1', [], { endA: { kind: 'free', at: [800, 0, 300] }, endB: { kind: 'free', at: [800, 0, 900] } }),
  ],
  solids: [
    { ...base, id: 'b', name: 'Box', shape: 'box', at: [900, 0, 300], size: [50, 50, 50], turn: [0, 0, 0] },
    {
      ...base,
      id: 'c',
      name: 'Drum',
      shape: 'cylinder',
      at: [1000, 0, 500],
      axis: [0, 0, 1],
      length: 100,
      radius: 10,
    },
    { ...base, id: 's', name: 'Ball', shape: 'sphere', at: [1000, 90, 300], radius: 30 },
    { ...base, id: 'f', name: 'Floor', shape: 'plane', at: [0, 0, 0], normal: [0, 0, 1] },
    { ...base, id: 'in', name: 'Kernel', shape: 'sphere', at: [1000, 0, 300], radius: 5 },
    {
      ...base,
      id: 'dip',
      name: 'Plug',
      shape: 'box',
      at: [970, 0, 300],
      size: [20, 20, 20],
      turn: [0, 0, 0],
    },
  ],
})

test.each([
  // Housing on the skid: x 975 … 1025, y −50 … 50, z 200 … 400.
  ['a box beside it', solid('b'), 50],
  ['a drum over it', solid('c'), 50],
  ['a ball beside it', solid('s'), 10],
  ['the floor under it', solid('f'), 200],
  // Wholly inside: 25 to the face less 5, and 10 wide.
  ['a ball within it', solid('in'), -30],
  // Its face at x = 980 lies 5 past the housing's at 975.
  ['a box that dips in', solid('dip'), -5],
  ['a tube of 12 beside it', { kind: 'tube', run: 'r1' }, 169],
  ['a centre line beside it', { kind: 'centreLine', run: 'r1' }, 175],
  ['a straight beside it', { kind: 'straight', run: 'r1', straight: 0 }, 175],
  ['a place over its corner', { kind: 'place', at: [1055, 90, 400], name: 'p' }, 50],
  ['a face of a box', { kind: 'face', solid: 'b', face: 0 }, 50],
  ['an axis over it', { kind: 'axis', solid: 'c' }, 50],
] as [string, Thing, number][])('where a model stands and is turned counts: %s', (_, thing, wanted) => {
  const m = measured(scene, thing, part('m1/h'), [housing])
  expect(Math.abs(m.gap - wanted)).toBeLessThanOrEqual(m.errorBound)
  expect(m.errorBound).toBeLessThanOrEqual(0.01)
  const back = measured(scene, part('m1/h'), thing, [housing])
  expect(back.gap).toBe(m.gap)
  expect([back.from, back.to]).toEqual([m.to, m.from])
})

const aside = body('m2/k', boxMesh([0, 0, 0], [40, 40, 40]), { at: [1065, 80, 430], turn: [0, 0, 0] })
const across = body('m3/k', boxMesh([0, 0, 0], [40, 40, 400]), { at: [1000, 0, 300], turn: [0, 0, 0] })
const within = body('m4/k', boxMesh([-1, -1, -1], [1, 1, 1]), { at: [1000, 0, 300], turn: [10, 20, 30] })
const models = skid({ ...scene, models: ['m1', 'm2', 'm3', 'm4'].map(id => sampleModel(id)) })

test('two models: apart corner to corner, crossing, and one within the other', () => {
  const all = [housing, aside, across, within]
  const m = measured(models, part('m1/h'), part('m2/k'), all)
  // 40 in x, 30 in y and 30 in z from corner to corner.
  expect(m.gap).toBeCloseTo(Math.hypot(40, 30, 30), 6)
  expect(m.overlapping).toBeUndefined()
  expect(m.from).toEqual([1025, 50, 400].map(x => expect.closeTo(x, 9)))
  expect(m.to).toEqual([1065, 80, 430])
  for (const id of ['m3/k', 'm4/k'])
    for (const [a, b] of [
      ['m1/h', id],
      [id, 'm1/h'],
    ] as const)
      expect(measured(models, part(a), part(b), all)).toMatchObject({ gap: 0, overlapping: true })
})

test('a whole model is its nearest part; a model and its own part are refused', () => {
  const far = body('m1/far', boxMesh([-100, -50, 975], [100, 50, 1025]), housing.placement)
  const all = [far, housing, aside]
  const one = measured(models, part('m2'), part('m1/h'), all)
  expect(measured(models, part('m1'), part('m2/k'), all)).toMatchObject({
    gap: expect.closeTo(one.gap, 9),
    a: 'Model m1',
  })
  expect(measured(models, solid('b'), part('m1'), all).gap).toBeCloseTo(50, 6)
  expect(found(models, part('m1'), part('m1/h'), all)).toEqual({
    refused: 'Model m1 and Part m1/h have a part in common',
  })
})

test('the bound of a whole model covers what each of its parts leaves open', () => {
  // A drum of 3,000 facets round a drum: far more are as near as each other than are told apart to rounding.
  const facets = (radius: number, n = 3000) => {
    const on = (k: number, z: number) => {
      const t = (2 * Math.PI * k) / n
      return [radius * Math.cos(t), radius * Math.sin(t), z]
    }
    return triangleTree(
      Array.from({ length: n }, (_, k) => [
        on(k, -50),
        on(k + 1, -50),
        on(k, 50),
        on(k + 1, -50),
        on(k + 1, 50),
        on(k, 50),
      ]).flat(2),
      null,
    )
  }
  const [near, far] = [facets(30), facets(30.0005)]
  const inner: Solid = {
    ...base,
    id: 'i',
    name: 'Pin',
    shape: 'cylinder',
    at: [0, 0, 0],
    axis: [0, 0, 1],
    length: 90,
    radius: 20,
  }
  const d = skid({ models: [sampleModel('m1')], solids: [inner] })
  // A facet's middle is nearest: the radius times the cosine of half its angle. Both are tubes without ends, so open.
  const truth = 30 * Math.cos(Math.PI / 3000) - 20
  for (const order of [
    [near, far],
    [far, near],
  ] as const) {
    const m = measured(d, solid('i'), part('m1'), [body('m1/a', order[0]), body('m1/b', order[1])])
    expect(Math.abs(m.gap - truth)).toBeLessThanOrEqual(m.errorBound)
    expect(m.errorBound).toBeLessThanOrEqual(0.01)
  }
})

test('what is not there or left out of measuring is refused with its reason', () => {
  const out = skid({
    models: [sampleModel('m1', { parts: [{ key: 'h', kind: 'leftOut', fitting: null }] })],
    solids: scene.solids,
  })
  expect(found(out, solid('b'), part('m1/h'), [])).toEqual({
    refused: 'Model m1: h is left out of measuring',
  })
  expect(found(scene, solid('b'), part('m1/h'), [])).toEqual({ refused: 'Model m1: h is not loaded' })
})

const anyPlacement = (random: Random, side: number): Placement => {
  const turn = () => random.between(-180, 180)
  return { at: randomPlace(random, side), turn: [turn(), turn(), turn()] }
}

interface OnSkid {
  readonly on: readonly number[]
  readonly geometry: BufferGeometry
  readonly bvh: MeshBVH
}
/** A skin's corners on the skid, and what three-mesh-bvh makes of them. */
function onSkid(skin: ReturnType<typeof waveMesh> & { readonly placement: Placement }): OnSkid {
  const { toSkid } = placedFrame(skin.placement)
  const { positions } = skin
  const on: number[] = []
  for (let i = 0; i < positions.length; i += 3)
    on.push(...toSkid([positions[i]!, positions[i + 1]!, positions[i + 2]!]))
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new Float32BufferAttribute(on, 3))
  geometry.setIndex([...skin.indices])
  return { on, geometry, bvh: new MeshBVH(geometry) }
}

const SEED = 777
test(`100 solids against turned boxes of triangles: as the CAD kernel has it (seed ${SEED})`, async () => {
  const oc = await cadKernel()
  const random = seeded(SEED)
  let apart = 0
  for (let k = 0; k < 100; k++) {
    const size: Vec3 = [random.between(20, 150), random.between(20, 150), random.between(20, 150)]
    const placement = anyPlacement(random, 300)
    const half = size.map(s => s / 2) as unknown as Vec3
    const mesh = body('m1/p', boxMesh(half.map(s => -s) as unknown as Vec3, half), placement)
    const other = randomSolid(random, 'q', randomPlace(random, 300))
    const d = skid({ models: [sampleModel('m1')], solids: [other] })
    const m = measured(d, solid('q'), part('m1/p'), [mesh])
    const same: Solid = {
      ...base,
      id: 'p',
      name: 'same',
      shape: 'box',
      at: placement.at,
      size,
      turn: placement.turn,
    }
    const judge = cadDistance(oc, cadSolid(oc, other), cadSolid(oc, same))
    expect(m.errorBound, `pair ${k}`).toBeLessThanOrEqual(0.01)
    if (judge === 0) {
      expect(m.gap, `pair ${k} overlaps`).toBeLessThanOrEqual(m.errorBound)
      continue
    }
    apart++
    // 1e-5: what the kernel's own search leaves open.
    expect(Math.abs(m.gap - judge), `pair ${k}`).toBeLessThanOrEqual(m.errorBound + 1e-5)
  }
  expect(apart).toBeGreaterThan(55)
}, 60_000)

test(`25 pairs of waved skins: as three-mesh-bvh has it, and never optimistic by their corners (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  let apart = 0
  for (let k = 0; k < 25; k++) {
    const skins = [0, 1].map(n => ({
      ...waveMesh(random.whole(6, 24), 300),
      placement: anyPlacement(random, 250 + 150 * n),
    }))
    const trees = skins.map(s => triangleTree(s.positions, s.indices))
    const d = skid({ models: [sampleModel('m1'), sampleModel('m2')] })
    const m = measured(d, part('m1/p'), part('m2/p'), [
      body('m1/p', trees[0]!, skins[0]!.placement),
      body('m2/p', trees[1]!, skins[1]!.placement),
    ])
    const [A, B] = skins.map(onSkid) as [OnSkid, OnSkid]
    Object.assign(B.geometry, { boundsTree: B.bvh })
    const judge = A.bvh.closestPointToGeometry(B.geometry, new Matrix4())?.distance ?? Number.NaN
    // Its triangles are in single precision: coordinates of some 400 mm to 3e-5.
    expect(Math.abs(m.gap - judge), `pair ${k}`).toBeLessThanOrEqual(2e-4)
    if (m.overlapping) continue
    apart++
    expect(distance(m.from, m.to)).toBeCloseTo(m.gap, 6)
    const other = body('m2/p', trees[1]!, skins[1]!.placement)
    for (let i = 0; i < A.on.length; i += 30) {
      const corner: Vec3 = [A.on[i]!, A.on[i + 1]!, A.on[i + 2]!]
      const place: Thing = { kind: 'place', at: corner, name: 'corner' }
      const { gap } = measured(d, place, part('m2/p'), [other])
      expect(gap).toBeGreaterThanOrEqual(m.gap - m.errorBound)
    }
  }
  expect(apart).toBeGreaterThan(8)
})

test(`solids against a waved skin of 20,000 triangles are never optimistic by sampling (seed ${SEED + 2})`, () => {
  const random = seeded(SEED + 2)
  const { positions, indices } = waveMesh(100, 400)
  const tree = triangleTree(positions, indices)
  for (let k = 0; k < 24; k++) {
    const placement = anyPlacement(random, 400)
    const other = randomSolid(random, 'q', randomPlace(random, 300))
    const d = skid({ models: [sampleModel('m1')], solids: [other] })
    const m = measured(d, solid('q'), part('m1/p'), [body('m1/p', tree, placement)])
    const shape = shapeOfSolid(other)
    const { toSkid } = placedFrame(placement)
    let sampled = Infinity
    for (let i = 0; i < positions.length; i += 3) {
      const p = toSkid([positions[i]!, positions[i + 1]!, positions[i + 2]!])
      sampled = Math.min(sampled, shape.signedDistance(p).value)
    }
    expect(m.gap).toBeLessThanOrEqual(sampled + m.errorBound)
    expect(Math.abs(shape.signedDistance(m.to).value - m.gap)).toBeLessThan(1e-7)
    expect(m.errorBound).toBeLessThanOrEqual(0.01)
  }
})
