import { expect, test } from 'vitest'
import type { SkidDocument, Solid } from '../../src/document/types.ts'
import { add, distance, scale, type Vec3 } from '../../src/geometry/vec3.ts'
import { clearances } from '../../src/skid/clearance.ts'
import type { Thing } from '../../src/skid/measurable.ts'
import { type Measured, measureBetween } from '../../src/skid/measureBetween.ts'
import { shapeOfSolid } from '../../src/skid/solidShape.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, port, runOf } from '../document/sampleDocument.ts'
import { seeded } from '../random.ts'
import { randomDocument, randomPlace, randomSolid } from './randomScene.ts'

const straightRun = (id: string, a: Vec3, b: Vec3) =>
  runOf(id, [], { endA: { kind: 'free', at: a }, endB: { kind: 'free', at: b } })
const skid = (more: Partial<SkidDocument>): SkidDocument => ({ ...documentOf([]), ...more })

function measured(document: SkidDocument, a: Thing, b: Thing): Measured {
  const found = measureBetween(document, solveDocument(document), a, b)
  if ('refused' in found) throw new Error(found.refused)
  return found
}
const refused = (document: SkidDocument, a: Thing, b: Thing): string => {
  const found = measureBetween(document, solveDocument(document), a, b)
  return 'refused' in found ? found.refused : 'not refused'
}

const base = { kind: 'equipment' as const, fitting: null }
const boxAt = (id: string, at: Vec3, size: Vec3, turn: Vec3 = [0, 0, 0]): Solid => ({
  ...base,
  id,
  name: `Box ${id}`,
  shape: 'box',
  at,
  size,
  turn,
})

// Two lines: x axis, and (0, 7, 24) + t·(1, 2, 0)/√5; both have z constant, so the perpendicular is 24 along z, its
// feet above each other where y = 0: t = −3.5√5, x = −3.5. The angle is atan 2.
const skew = skid({
  runs: [straightRun('r1', [-100, 0, 0], [500, 0, 0]), straightRun('r2', [0, 7, 24], [100, 207, 24])],
})

test('two straights: angle, common perpendicular with its feet, and that one foot is off its straight', () => {
  const m = measured(
    skew,
    { kind: 'straight', run: 'r1', straight: 0 },
    { kind: 'straight', run: 'r2', straight: 0 },
  )
  expect(m.angle).toBeCloseTo((Math.atan(2) * 180) / Math.PI, 10)
  expect(m.perpendicular!.distance).toBeCloseTo(24, 10)
  expect(m.perpendicular!.feet![0][0]).toBeCloseTo(-3.5, 9)
  expect(m.perpendicular!.feet![1][2]).toBeCloseTo(24, 9)
  expect(m.perpendicular!.within).toBe(false)
  // Least distance: from the end (0, 7, 24) square to the x axis: a 7-24-25 triangle.
  expect(m.gap).toBeCloseTo(25, 10)
  expect(m.from).toEqual([0, 0, 0])
  expect(m.to).toEqual([0, 7, 24])
  expect(m.toLevel).toBeCloseTo((Math.atan2(24, 7) * 180) / Math.PI, 10)
})

test('parallel straights have one distance and no feet', () => {
  const d = skid({
    runs: [straightRun('r1', [0, 0, 0], [100, 50, 0]), straightRun('r2', [200, 100, 60], [400, 200, 60])],
  })
  const m = measured(
    d,
    { kind: 'straight', run: 'r1', straight: 0 },
    { kind: 'straight', run: 'r2', straight: 0 },
  )
  expect(m.perpendicular).toEqual({ distance: expect.closeTo(60, 9), feet: null, within: false })
  expect(m.angle).toBeCloseTo(0, 9)
  expect(m.gap).toBeCloseTo(Math.hypot(100, 50, 60), 9)
})

test('two tubes of unlike length: the gap of the outsides, not of the centre lines, at flat ends too', () => {
  const d = skid({
    runs: [
      straightRun('r1', [0, 0, 0], [1000, 0, 0]),
      // OD 12 both; square above the first, its flat end 80 over the axis.
      straightRun('r2', [700, 0, 80], [700, 0, 300]),
    ],
  })
  const m = measured(d, { kind: 'tube', run: 'r1' }, { kind: 'tube', run: 'r2' })
  expect(Math.abs(m.gap - 74)).toBeLessThanOrEqual(m.errorBound)
  expect(m.errorBound).toBeLessThan(0.003)
  const lines = measured(d, { kind: 'centreLine', run: 'r1' }, { kind: 'centreLine', run: 'r2' })
  expect(Math.abs(lines.gap - 80)).toBeLessThanOrEqual(lines.errorBound)
})

test('a point and a tube: beside it, past its flat end, past the rim, and inside', () => {
  const d = skid({ runs: [straightRun('r1', [0, 0, 0], [1000, 0, 0])] })
  const tube: Thing = { kind: 'tube', run: 'r1' }
  const at = (p: Vec3): Thing => ({ kind: 'place', at: p, name: 'place' })
  expect(measured(d, tube, at([300, 30, 40])).gap).toBeCloseTo(44, 9)
  expect(measured(d, tube, at([1013, 0, 0])).gap).toBeCloseTo(13, 9)
  // 3 past the end face, 4 outside the rim: 5.
  expect(measured(d, tube, at([1003, 10, 0])).gap).toBeCloseTo(5, 9)
  expect(measured(d, tube, at([500, 2, 0])).gap).toBeCloseTo(-4, 9)
})

test('a point and a bend: from the bend centre straight out, 36 − 6 to the tube at CLR 36, OD 12', () => {
  const d = skid({
    runs: [
      runOf('r1', [[400, 0, 0]], {
        endA: { kind: 'free', at: [0, 0, 0] },
        endB: { kind: 'free', at: [400, 700, 0] },
      }),
    ],
  })
  const centre: Thing = { kind: 'bendCentre', run: 'r1', point: 'v1' }
  expect(measured(d, centre, { kind: 'tube', run: 'r1' }).gap).toBeCloseTo(30, 9)
  expect(measured(d, centre, { kind: 'centreLine', run: 'r1' }).gap).toBeCloseTo(36, 5)
  const m = measured(d, { kind: 'point', run: 'r1', point: 'A' }, { kind: 'point', run: 'r1', point: 'v1' })
  expect(m.delta).toEqual([400, 0, 0])
  // From the sharp corner the arc is R(√2 − 1) away.
  const sharp = measured(d, { kind: 'point', run: 'r1', point: 'v1' }, { kind: 'centreLine', run: 'r1' })
  expect(sharp.gap).toBeCloseTo(36 * (Math.SQRT2 - 1), 5)
})

const solids = skid({
  fittings: [port('a', [0, 0, 500], [0, 0, 2])],
  solids: [
    boxAt('b', [0, 0, 0], [100, 60, 20]),
    boxAt('c', [250, 0, 45], [40, 10, 30]),
    boxAt('t', [0, 400, 0], [100, 100, 100], [0, 0, 45]),
    {
      ...base,
      id: 'y',
      name: 'Drum',
      shape: 'cylinder',
      at: [0, 0, 300],
      axis: [0, 0, 3],
      length: 200,
      radius: 50,
    },
    { ...base, id: 'o', name: 'Ball', shape: 'sphere', at: [0, -300, 0], radius: 70 },
    { ...base, id: 'f', name: 'Floor', shape: 'plane', at: [5, 5, -110], normal: [0, 0, 4] },
    { ...base, id: 'g', name: 'Roof', shape: 'plane', at: [0, 0, 890], normal: [0, 0, -1] },
    { ...base, id: 'w', name: 'Wall', shape: 'plane', at: [0, 900, 0], normal: [0, -1, 0] },
  ],
})
const of = (solid: string): Thing => ({ kind: 'solid', solid })

test('solids: boxes edge to corner, drum to box, ball to everything, floor under each', () => {
  // c lies from x 230 and z 30; b reaches to x 50 and z 10: 180 and 20 between them.
  expect(measured(solids, of('b'), of('c')).gap).toBeCloseTo(Math.hypot(180, 20), 6)
  expect(measured(solids, of('y'), of('b')).gap).toBeCloseTo(190, 6)
  expect(measured(solids, of('o'), of('b')).gap).toBeCloseTo(300 - 30 - 70, 9)
  // A cube of 100 turned by 45°: its edge reaches 50√2 out, towards the ball.
  expect(measured(solids, of('o'), of('t')).gap).toBeCloseTo(700 - 70 - 50 * Math.SQRT2, 9)
  expect(measured(solids, of('b'), of('f')).gap).toBeCloseTo(100, 9)
  expect(measured(solids, of('f'), of('o')).gap).toBeCloseTo(40, 9)
  const roof = measured(solids, of('f'), of('g'))
  expect(roof.gap).toBeCloseTo(1000, 9)
  expect(roof.angle).toBeCloseTo(0, 9)
  expect(distance(roof.from, roof.to)).toBeCloseTo(1000, 9)
  expect(refused(solids, of('f'), of('w'))).toContain('two planes that meet')
})

test('faces, edges, corners, axes and ports', () => {
  const face = (solid: string, n: number): Thing => ({ kind: 'face', solid, face: n })
  // Top of b (z = 10) to bottom of the drum (z = 200).
  const m = measured(solids, face('b', 4), face('y', 1))
  expect(m.gap).toBeCloseTo(190, 6)
  expect(m.angle).toBeCloseTo(0, 9)
  expect(measured(solids, face('t', 0), face('b', 0)).angle).toBeCloseTo(45, 9)
  expect(measured(solids, { kind: 'axis', solid: 'y' }, face('b', 4)).angle).toBeCloseTo(90, 9)
  expect(measured(solids, { kind: 'axis', solid: 'y' }, { kind: 'port', fitting: 'a' }).gap).toBeCloseTo(
    100,
    9,
  )
  expect(measured(solids, { kind: 'corner', solid: 'b', corner: 7 }, of('f')).gap).toBeCloseTo(120, 9)
  expect(
    measured(solids, { kind: 'corner', solid: 'b', corner: 0 }, { kind: 'corner', solid: 'b', corner: 7 })
      .delta,
  ).toEqual([100, 60, 20])
  // Edges 0 to 3 run along x, 8 to 11 along z.
  const edges = measured(
    solids,
    { kind: 'edge', solid: 'b', edge: 0 },
    { kind: 'edge', solid: 'b', edge: 11 },
  )
  expect(edges.angle).toBeCloseTo(90, 9)
  expect(edges.gap).toBeCloseTo(60, 9)
  expect(measured(solids, { kind: 'middle', solid: 'o' }, of('o')).gap).toBeCloseTo(-70, 9)
})

test('overlapping solids: minus a shift that frees them, for turned boxes the least', () => {
  const d = skid({
    solids: [boxAt('p', [0, 0, 0], [100, 100, 100]), boxAt('q', [70, 10, 5], [60, 20, 300])],
  })
  // p ends at x 50, q begins at 40: 10 of overlap.
  const m = measured(d, of('p'), of('q'))
  expect(m.gap).toBeCloseTo(-10, 6)
  expect(Math.abs(m.delta[0])).toBeCloseTo(10, 6)
})

test('what is the same, gone or without a tube is refused with the reason', () => {
  expect(refused(solids, of('b'), of('b'))).toContain('same thing')
  expect(refused(solids, of('b'), of('nowhere'))).toContain('no longer in the document')
  expect(refused(skew, { kind: 'tube', run: 'r1' }, { kind: 'tube', run: 'r1' })).toContain(
    'never turns back',
  )
  const reversal = skid({
    runs: [
      runOf('r1', [[400, 0, 0]], {
        endA: { kind: 'free', at: [0, 0, 0] },
        endB: { kind: 'free', at: [100, 0, 0] },
      }),
      straightRun('r2', [0, 50, 0], [100, 50, 0]),
    ],
  })
  expect(refused(reversal, { kind: 'tube', run: 'r2' }, { kind: 'tube', run: 'r1' })).toContain('has no tube')
})

const SEED = 9203
test(`every pair of the clearance check is measured the same, either way round (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let pairs = 0
  for (let scene = 0; scene < 20; scene++) {
    const d = randomDocument(random, 7, 5, 500)
    const solved = solveDocument(d)
    for (const pair of clearances(d, solved, { within: 60 })) {
      const thing = (id: string): Thing =>
        d.runs.some(r => r.id === id) ? { kind: 'tube', run: id } : { kind: 'solid', solid: id }
      for (const [a, b] of [
        [thing(pair.aId), thing(pair.bId)],
        [thing(pair.bId), thing(pair.aId)],
      ] as const) {
        const m = measured(d, a, b)
        expect(Math.abs(m.gap - pair.clearance), `${pair.a} ${pair.b}`).toBeLessThanOrEqual(
          Math.max(m.errorBound, pair.errorBound),
        )
      }
      const m = measured(d, thing(pair.aId), thing(pair.bId))
      if (pair.kind === 'run') expect(m.gap).toBeCloseTo(pair.clearance, 9)
      pairs++
    }
  }
  expect(pairs).toBeGreaterThan(150)
})

test(`solid to solid is never more than sampling finds, and near it (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  let apart = 0
  for (let k = 0; k < 150; k++) {
    const d = skid({
      solids: [randomSolid(random, 'p', [0, 0, 0]), randomSolid(random, 'q', randomPlace(random, 300))],
    })
    const m = measured(d, of('p'), of('q'))
    const [p, q] = d.solids.map(shapeOfSolid)
    if (m.gap < 0) {
      // The shift does free them.
      const freed = skid({
        solids: d.solids.map((s, i) => (i === 0 ? { ...s, at: add(s.at, scale(m.delta, 1 + 1e-9)) } : s)),
      })
      expect(distance(m.from, m.to)).toBeCloseTo(-m.gap, 6)
      expect(measured(freed, of('p'), of('q')).gap).toBeGreaterThan(-1e-6)
      continue
    }
    apart++
    expect(distance(m.from, m.to)).toBeCloseTo(m.gap, 6)
    // The two points lie on their solids, so the figure cannot be too small by more than that.
    expect(Math.abs(p!.signedDistance(m.from).value)).toBeLessThan(1e-5)
    expect(Math.abs(q!.signedDistance(m.to).value)).toBeLessThan(1e-5)
    // Points of p's outside, by its support in many directions, are never nearer to q.
    for (let i = 0; i < 400; i++) {
      const on = p!.support!(random.direction())
      expect(q!.signedDistance(on).value).toBeGreaterThanOrEqual(m.gap - m.errorBound)
    }
  }
  expect(apart).toBeGreaterThan(60)
})
