import { describe, expect, test } from 'vitest'
import type { Fitting, Run, SkidDocument, Solid } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { clearances } from '../../src/skid/clearance.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import { liveGaps } from '../../src/skid/liveGap.ts'
import { measureBetween } from '../../src/skid/measureBetween.ts'
import type { MeshBody } from '../../src/skid/parts.ts'
import { solveDocument, solveRun } from '../../src/solve/solveRun.ts'
import { documentOf, port, runOf } from '../document/sampleDocument.ts'
import { boxMesh } from '../geometry/boxMesh.ts'

const tank = (at: Vec3, fitting: string | null = null, size: Vec3 = [300, 300, 300]): Solid => ({
  id: 'tank',
  name: 'Tank',
  kind: 'equipment',
  fitting,
  shape: 'box',
  at,
  size,
  turn: [0, 0, 0],
})
/** A port at the origin whose tube leaves along +x, its nut needing 24 mm; another far off. */
const near: Fitting = { ...port('near', [0, 0, 0], [1, 0, 0]), name: 'Tank return', straightNeeded: 24 }
const far: Fitting = { ...port('far', [400, 300, 0], [0, -1, 0]), straightNeeded: 24 }
const elbow = (more: Partial<Run> = {}): Run =>
  runOf('r', [[400, 0, 0]], {
    endA: { kind: 'port', fitting: 'near' },
    endB: { kind: 'port', fitting: 'far' },
    ...more,
  })
const skid = (
  runs: readonly Run[],
  solids: readonly Solid[],
  fittings: readonly Fitting[] = [near, far],
) => ({
  ...documentOf(runs, fittings),
  solids,
})
const found = (d: SkidDocument, meshes: readonly MeshBody[] = []) =>
  clearanceFindings(d, solveDocument(d), meshes)
const rules = (d: SkidDocument, meshes: readonly MeshBody[] = []) =>
  found(d, meshes).map(f => `${f.rule} ${f.id}`)
/** The tank's face is at x = `face`. */
const standing = (face: number, fitting: string | null = null) => tank([face - 150, 0, 0], fitting)

describe('a port that stands on equipment', () => {
  test('needs nothing set to be quiet: a hair in, a hair out, or exactly on its face', () => {
    for (const face of [-0.1, -0.0001, 0, 0.004, 0.15])
      for (const fitting of [null, 'near'])
        expect(rules(skid([elbow()], [standing(face, fitting)])), `face ${face}, ${fitting}`).toEqual([])
  })

  test('is quiet on a drum, a ball, a plane and a part of a model, too', () => {
    const base = { id: 'b', name: 'Body', kind: 'equipment' as const, fitting: null }
    const bodies: Solid[] = [
      { ...base, shape: 'cylinder', at: [-100, 0, 0], axis: [0, 0, 1], length: 300, radius: 100 },
      { ...base, shape: 'cylinder', at: [-50, 0, 0], axis: [1, 0, 0], length: 100, radius: 60 },
      { ...base, shape: 'sphere', at: [-80, 0, 0], radius: 80 },
      { ...base, shape: 'plane', at: [0, 50, -20], normal: [1, 0, 0] },
    ]
    for (const body of bodies) expect(rules(skid([elbow()], [body])), body.shape).toEqual([])
    const mesh = { ...base, tree: boxMesh([-300, -150, -150], [0, 150, 150]) }
    expect(rules(skid([elbow()], []), [mesh])).toEqual([])
  })

  test('says what is left out and how long it is', () => {
    const d = skid([elbow()], [standing(0)])
    const [pair] = clearances(d, solveDocument(d), { within: 100 })
    expect(pair).toMatchObject({
      clearance: expect.closeTo(24, 6),
      required: 0,
      exempt: [{ end: 'A', length: 24 }],
    })
  })

  test('the gap at the cursor does not stick to it, and the measuring tool leaves out the same', () => {
    const d = skid([elbow()], [standing(0)])
    const gap = liveGaps(d, 'r', [], 100)(elbow(), solveRun(d, elbow()))
    expect(gap?.id).not.toBe('tank')
    expect(
      measureBetween(d, solveDocument(d), { kind: 'tube', run: 'r' }, { kind: 'solid', solid: 'tank' }),
    ).toMatchObject({ gap: expect.closeTo(24, 6) })
  })
})

describe('what is not a stub is measured', () => {
  test('a tank moved over its own port is a clash and a buried port, linked or not', () => {
    for (const fitting of [null, 'near']) {
      const d = skid([elbow()], [standing(150, fitting)])
      const all = found(d)
      expect(all.map(f => f.rule).sort(), `${fitting}`).toEqual(['clash', 'portInBody'])
      const [buried, clash] = [all.find(f => f.rule === 'portInBody')!, all.find(f => f.rule === 'clash')!]
      expect(buried).toMatchObject({
        severity: 'error',
        measured: expect.closeTo(150, 6),
        where: { run: 'r', kind: 'endA', other: 'tank' },
      })
      expect(buried.message).toContain('Tank return is buried')
      expect(clash.measured!).toBeLessThan(-100)
    }
    const mesh: MeshBody = {
      id: 'm',
      name: 'Vessel',
      kind: 'equipment',
      fitting: 'near',
      tree: boxMesh([-300, -150, -150], [150, 150, 150]),
    }
    expect(
      found(skid([elbow()], []), [mesh])
        .map(f => f.rule)
        .sort(),
    ).toEqual(['clash', 'portInBody'])
  })

  test('a port whose nut points into its body is buried, though its face is in the surface', () => {
    // A plate of 10 mm before the port: the nut is through it within the stub.
    const plate = tank([5, 0, 0], null, [10, 200, 200])
    const [buried, ...others] = found(skid([elbow()], [plate]))
    expect(others).toEqual([])
    expect(buried).toMatchObject({ rule: 'portInBody', measured: expect.closeTo(5, 6) })
  })

  test('the same run near its own body again with another stretch is too close or a clash', () => {
    const back = (y: number) =>
      elbow({
        vertices: [
          [100, 0, 0],
          [100, y, 0],
          [-200, y, 0],
          [-200, 300, 0],
        ].map((at, k) => ({ id: `v${k}`, at: at as unknown as Vec3 })),
        endB: { kind: 'free', at: [-200, 300, 200] },
      })
    expect(rules(skid([back(166)], [standing(0, 'near')]))).toEqual(['tooClose clearance:r:tank'])
    expect(found(skid([back(166)], [standing(0, 'near')]))[0]).toMatchObject({
      measured: expect.closeTo(10, 6),
      limit: 25,
    })
    expect(rules(skid([back(140)], [standing(0, 'near')]))).toEqual(['clash clearance:r:tank'])
    expect(rules(skid([back(190)], [standing(0, 'near')]))).toEqual([])
  })

  test('a run’s own two ends on one body are each let off, what lies between is not', () => {
    const other: Fitting = { ...port('far', [0, 100, 0], [1, 0, 0]), straightNeeded: 24 }
    const u = (x: number) =>
      elbow({
        vertices: [
          [x, 0, 0],
          [x, 100, 0],
        ].map((at, k) => ({ id: `v${k}`, at: at as unknown as Vec3 })),
      })
    expect(rules(skid([u(100)], [standing(0)], [near, other]))).toEqual([])
    // At 60 the U's back is 42 … 24 + 36 − 6 from the face: still far enough. A body between the legs is not.
    const between = { ...tank([60, 50, 0], 'near', [40, 40, 40]), id: 'boss', name: 'Boss' }
    expect(rules(skid([u(100)], [standing(0), between], [near, other]))).toEqual([
      'tooClose clearance:r:boss',
    ])
  })

  test('a run through the body of another port is a clash, and so are two runs out of one port', () => {
    const body = { ...tank([200, 0, 0], 'far', [40, 40, 40]), kind: 'fitting' as const }
    expect(rules(skid([elbow({ endB: { kind: 'free', at: [400, 300, 0] } })], [body]))).toEqual([
      'clash clearance:r:tank',
    ])
    const twin = elbow({ id: 's', tag: 'S', vertices: [{ id: 'v', at: [400, 0, 0] }] })
    expect(rules(skid([elbow(), twin], [standing(0)]))).toContain('clash clearance:r:s')
  })

  test('a tube that leaves its port’s axis loses its stub where it does', () => {
    const askew = elbow({
      vertices: [{ id: 'v', at: [400, 231, 0] }],
      endB: { kind: 'free', at: [700, 231, 0] },
    })
    const d = skid([askew], [standing(0, 'near')])
    const [pair] = clearances(d, solveDocument(d), { within: 100 })
    // 30° off: 0.3 mm off the axis after 0.6 mm, and the rim dips in.
    expect(pair!.exempt[0]!.length).toBeCloseTo(0.6, 2)
    expect(pair!.clearance).toBeLessThan(-1)
  })

  test('along the face it came from at a hand’s breadth it is too close again once it no longer moves away', () => {
    const low = (away: number) =>
      runOf('r', [[24 + 36, 0, 0]], {
        endA: { kind: 'port', fitting: 'near' },
        endB: { kind: 'free', at: [24 + 36, 140, 0] },
        clr: 36,
        insulation: away,
      })
    // The tube runs at 60 mm: 54 bare, 24 in its 30 mm of insulation.
    expect(rules(skid([low(0)], [standing(0)]))).toEqual([])
    expect(found(skid([low(30)], [standing(0)]))).toMatchObject([
      { rule: 'tooClose', measured: expect.closeTo(24, 4), limit: 25 },
    ])
  })
})
