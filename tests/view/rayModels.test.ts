import { describe, expect, test } from 'vitest'
import { addModel, editModel } from '../../src/document/modelEdits.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Model, Run, SkidDocument } from '../../src/document/types.ts'
import { triangleTree } from '../../src/geometry/triangleTree.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { LOOKS, project, type Rig, rayAt } from '../../src/view/scene/cameraRig.ts'
import { pickAt } from '../../src/view/scene/pick.ts'
import { rayMeetsModels } from '../../src/view/scene/rayModels.ts'

/** A cube of edge 100 with its middle at x, two triangles a face. */
function cube(x: number) {
  const corners = [-50, 50].flatMap(a => [-50, 50].flatMap(b => [-50, 50].flatMap(c => [x + a, b, c])))
  const faces = [
    [0, 1, 3, 2],
    [4, 6, 7, 5],
    [0, 4, 5, 1],
    [2, 3, 7, 6],
    [0, 2, 6, 4],
    [1, 5, 7, 3],
  ]
  return triangleTree(
    corners,
    faces.flatMap(([a, b, c, d]) => [a!, b!, c!, a!, c!, d!]),
  )
}
const PARTS = [
  { key: 'near', names: ['near'], tree: cube(0) },
  { key: 'far', names: ['far'], tree: cube(300) },
]
const added = addModel(emptyDocument('x'), {
  name: 'Two cubes',
  kind: 'equipment',
  fileName: 'x.stl',
  hash: '0'.repeat(64),
  bytes: 1,
  format: 'stl',
  unitMm: 1,
  up: 'z',
}).document
const turned = (patch: Partial<Model>): SkidDocument => editModel(added, 'm1', m => ({ ...m, ...patch }))
const seen = { treesOf: () => PARTS, hidden: new Set<string>(), section: null }
const along: Vec3 = [1, 0, 0]
const from: Vec3 = [-1000, 10, 10]

describe('the part of a model under a ray', () => {
  test('is the nearest one, with its face towards the eye', () => {
    const hit = rayMeetsModels({ origin: from, direction: along }, added, seen)!
    expect([hit.key, hit.along, hit.normal]).toEqual(['near', 950, [-1, 0, 0]])
  })
  test('is found where the model stands and as it is turned', () => {
    const document = turned({ at: [0, 500, 0], turn: [0, 0, 90] })
    const hit = rayMeetsModels({ origin: [10, 2000, 10], direction: [0, -1, 0] }, document, seen)!
    expect(hit.key).toBe('far')
    expect(hit.along).toBeCloseTo(2000 - 850, 9)
    expect(hit.normal[1]).toBeCloseTo(1, 12)
  })
  test('is never a hidden one, nor one of a hidden model', () => {
    const ray = { origin: from, direction: along }
    expect(rayMeetsModels(ray, added, { ...seen, hidden: new Set(['m1/near']) })?.key).toBe('far')
    expect(rayMeetsModels(ray, added, { ...seen, hidden: new Set(['m1']) })).toBeNull()
  })
  test('is not what the section cuts away, from either side', () => {
    const section = { at: [200, 0, 0], normal: [-1, 0, 0] } as const
    expect(rayMeetsModels({ origin: from, direction: along }, added, { ...seen, section })?.key).toBe('far')
    const other = { at: [200, 0, 0], normal: [1, 0, 0] } as const
    const back = { origin: [1000, 10, 10], direction: [-1, 0, 0] } as const
    expect(rayMeetsModels(back, added, { ...seen, section: other })?.key).toBe('near')
    const miss = { origin: [1000, 200, 0], direction: [0, 1, 0] } as const
    expect(rayMeetsModels(miss, added, { ...seen, section: other })).toBeNull()
  })
})

describe('a model and a tube under the cursor', () => {
  const run: Run = {
    id: 'r1',
    tag: 'T-1',
    service: '',
    tube: { catalogueId: null, od: 12, wall: 1, material: 'steel' },
    clr: 36,
    bender: null,
    endA: { kind: 'free', at: [-400, 0, 0] },
    vertices: [],
    endB: { kind: 'free', at: [600, 0, 0] },
    trimAllowance: 0,
    insulation: 0,
    quantity: 1,
  }
  const document = { ...added, runs: [run] }
  const rig: Rig = { target: [0, 0, 0], span: 900, projection: 'perspective', ...LOOKS.iso }
  const frame = { width: 800, height: 600 }
  const view = {
    project: (p: Vec3) => project(rig, frame, p),
    ray: (x: number, y: number) => rayAt(rig, frame, x, y),
  }
  const at = (p: Vec3, shown: SkidDocument = document) => {
    const spot = view.project(p)!
    return pickAt(
      view,
      {
        document: shown,
        solved: solveDocument(shown),
        hidden: new Set(),
        handlesOf: null,
        meetModel: ray => rayMeetsModels(ray, shown, seen),
      },
      spot.x,
      spot.y,
    )?.part
  }
  test('the tube is picked where it is seen, the model where it stands before the tube', () => {
    expect(at([-200, 0, 0])).toMatchObject({ kind: 'straight', run: 'r1' })
    expect(at([0, 0, 0])).toEqual({ kind: 'model', model: 'm1', key: 'near' })
  })
  test('through a keep-out zone one sees and picks the tube', () => {
    const open = editModel(document, 'm1', m => ({ ...m, kind: 'keepOut' as const }))
    expect(at([0, 0, 0], open)).toMatchObject({ kind: 'straight', run: 'r1' })
  })
})
