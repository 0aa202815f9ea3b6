import { expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { pointOn } from '../../src/solve/centreLine.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { aimedAt, LOOKS, project, type Rig, rayAt } from '../../src/view/scene/cameraRig.ts'
import { legAt, pickAt } from '../../src/view/scene/pick.ts'

const run: Run = {
  id: 'r1',
  tag: 'T-1',
  service: '',
  tube: { catalogueId: null, od: 12, wall: 1, material: 'steel' },
  clr: 36,
  bender: null,
  endA: { kind: 'free', at: [0, 0, 0] },
  vertices: [
    { id: 'v1', at: [300, 0, 0] },
    { id: 'v2', at: [300, 300, 0] },
  ],
  endB: { kind: 'free', at: [300, 300, 300] },
  trimAllowance: 0,
  insulation: 0,
  quantity: 1,
}
const skid: SkidDocument = {
  ...emptyDocument('test'),
  runs: [run],
  solids: [
    {
      id: 's1',
      name: 'Box',
      kind: 'equipment',
      fitting: null,
      shape: 'box',
      at: [150, 0, 0],
      size: [80, 80, 80],
      turn: [0, 0, 0],
    },
  ],
}
const rig: Rig = { target: [150, 150, 100], span: 900, projection: 'perspective', ...LOOKS.iso }
const frame = { width: 800, height: 600 }
const view = {
  project: (p: Vec3) => project(rig, frame, p),
  ray: (x: number, y: number) => rayAt(rig, frame, x, y),
}
const solved = solveDocument(skid)
const at = (p: Vec3, more: { handlesOf?: string; hidden?: string[] } = {}) => {
  const seen = view.project(p)!
  const of = { document: skid, solved, hidden: new Set(more.hidden ?? []), handlesOf: more.handlesOf ?? null }
  return pickAt(view, of, seen.x, seen.y)
}

test('a straight is picked on its tube, even inside a solid one can see through', () => {
  expect(at([150, 0, 0])?.part).toEqual({ kind: 'straight', run: 'r1', straight: 0 })
})
test('a bend is picked on its arc, as its vertex', () => {
  const arc = solved[0]!.route!.pieces.find(p => p.kind === 'arc')!
  const middle = pointOn(arc, (arc.to - arc.from) / 2).point
  expect(at(middle)?.part).toEqual({ kind: 'point', run: 'r1', point: 'v1' })
})
test('a handle wins over the tube while handles are shown', () => {
  expect(at([300, 0, 0], { handlesOf: 'r1' })).toMatchObject({ handle: true, part: { point: 'v1' } })
  expect(at([300, 300, 300], { handlesOf: 'r1' })).toMatchObject({ part: { point: 'B' } })
})
test('a hidden run is not picked: what is behind it is', () => {
  expect(at([150, 0, 0], { hidden: ['r1'], handlesOf: 'r1' })?.part).toEqual({ kind: 'solid', solid: 's1' })
})
test('nothing is picked where nothing is', () => {
  expect(at([-300, 300, 0])).toBeNull()
})
test('the leg under the cursor is found with the point on it', () => {
  const seen = view.project([300, 120, 0])!
  const points: Vec3[] = [
    [0, 0, 0],
    [300, 0, 0],
    [300, 300, 0],
    [300, 300, 300],
  ]
  const hit = legAt(view, points, seen.x, seen.y, 5)!
  expect(hit.leg).toBe(1)
  expect(distance(hit.at, [300, 120, 0])).toBeLessThan(1e-6)
  expect(legAt(view, points, seen.x + 60, seen.y + 60, 5)).toBeNull()
})
test.each(['perspective', 'orthographic'] as const)(
  'aiming at another depth leaves the %s picture as it is',
  p => {
    const before = { ...rig, projection: p }
    const after = aimedAt(before, 140)
    for (const q of [
      [0, 0, 0],
      [300, 300, 300],
    ] as Vec3[]) {
      const [a, b] = [project(before, frame, q)!, project(after, frame, q)!]
      expect(b.x).toBeCloseTo(a.x, 9)
      expect(b.y).toBeCloseTo(a.y, 9)
    }
  },
)

test('a support is picked before the tube that it holds; away from it the tube is', () => {
  const held: SkidDocument = {
    ...skid,
    supports: [{ id: 'c1', name: 'Clamp', type: 'clamp', run: 'r1', at: [60, 0, 0] }],
  }
  const of = { document: held, solved, hidden: new Set<string>(), handlesOf: null }
  const pick = (p: Vec3, hidden: string[] = []) => {
    const seen = view.project(p)!
    return pickAt(view, { ...of, hidden: new Set(hidden) }, seen.x, seen.y)?.part
  }
  expect(pick([60, 0, 0])).toEqual({ kind: 'support', support: 'c1' })
  expect(pick([63, 0, 0])).toEqual({ kind: 'support', support: 'c1' })
  expect(pick([95, 0, 0])).toEqual({ kind: 'straight', run: 'r1', straight: 0 })
  expect(pick([60, 0, 0], ['r1'])).toBeUndefined()
})
