import { describe, expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Fitting, Run, SkidDocument, Solid } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { clearances } from '../../src/skid/clearance.ts'
import { clearanceReport } from '../../src/skid/clearanceCommand.ts'
import { clearanceFindings, findingsOfIndex } from '../../src/skid/clearanceFindings.ts'
import { createClearanceIndex } from '../../src/skid/clearanceIndex.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'

const run = (id: string, points: readonly Vec3[], more: Partial<Run> = {}): Run => ({
  id,
  tag: id.toUpperCase(),
  service: 'invented',
  tube: { catalogueId: null, od: 12, wall: 1, material: 'invented' },
  clr: 36,
  bender: null,
  endA: { kind: 'free', at: points[0]! },
  vertices: points.slice(1, -1).map((at, k) => ({ id: `v${k}`, at })),
  endB: { kind: 'free', at: points[points.length - 1]! },
  trimAllowance: 0,
  insulation: 0,
  quantity: 1,
  ...more,
})
const solid = (
  id: string,
  kind: Solid['kind'],
  at: Vec3,
  size: Vec3,
  fitting: string | null = null,
): Solid => ({
  id,
  name: `The ${id}`,
  kind,
  fitting,
  shape: 'box',
  at,
  size,
  turn: [0, 0, 0],
})
const document = (runs: readonly Run[], solids: readonly Solid[] = [], fittings: readonly Fitting[] = []) =>
  ({ ...emptyDocument('Test, invented'), runs, solids, fittings }) satisfies SkidDocument
const near = (d: SkidDocument, within = 100) => clearances(d, solveDocument(d), { within })
const findings = (d: SkidDocument) => clearanceFindings(d, solveDocument(d))

const level = (id: string, y: number, more: Partial<Run> = {}) =>
  run(
    id,
    [
      [0, y, 100],
      [400, y, 100],
    ],
    more,
  )

describe('pairs', () => {
  test('names the runs, the straights and what is asked for', () => {
    const [pair, ...others] = near(document([level('r1', 0), level('r2', 30)]))
    expect(others).toEqual([])
    expect(pair).toMatchObject({ a: 'R1', b: 'R2', aId: 'r1', bId: 'r2', kind: 'run', required: 10 })
    expect(pair!.clearance).toBeCloseTo(18, 9)
    expect(pair!.placeA).toEqual({ kind: 'straight', index: 0 })
  })

  test('what is asked for takes the solid’s kind, and is asked of the insulation’s outside', () => {
    const a = level('r1', 0, { insulation: 20 })
    const d = document(
      [a, level('r2', 60, { insulation: 5 })],
      [
        solid('frame', 'structure', [200, -60, 100], [50, 50, 50]),
        solid('swing', 'keepOut', [200, 0, 180], [50, 50, 50]),
      ],
    )
    const asked = Object.fromEntries(near(d, 200).map(p => [`${p.a}-${p.b}`, p.required]))
    expect(asked).toEqual({
      'R1-R2': 10,
      'R1-The frame': 15,
      'R1-The swing': 0,
      'R2-The frame': 15,
      'R2-The swing': 0,
    })
    // Axes 60 apart: 60 − 26 − 11.
    expect(near(d, 200).find(p => p.b === 'R2')!.clearance).toBeCloseTo(23, 6)
  })

  test('only pairs nearer than asked are given, nearest first', () => {
    const d = document([level('r1', 0), level('r2', 30), level('r3', 200)])
    expect(near(d, 18)).toEqual([])
    expect(near(d, 18.001).map(p => p.b)).toEqual(['R2'])
    expect(near(d, 1000).map(p => [p.a, p.b])).toEqual([
      ['R1', 'R2'],
      ['R2', 'R3'],
      ['R1', 'R3'],
    ])
  })

  test('at the body of its own fitting a run is measured from the end of its stub, another run all along', () => {
    const port: Fitting = {
      id: 'f1',
      name: 'Tap',
      catalogueId: null,
      position: [0, 0, 100],
      axis: [1, 0, 0],
      insertionDepth: 10,
      straightNeeded: 20,
      tubeOd: 12,
    }
    const ends = level('r1', 0, { endA: { kind: 'port', fitting: 'f1' } })
    const body = solid('body', 'fitting', [-5, 0, 100], [30, 30, 30], 'f1')
    const passing = run('r2', [
      [0, -200, 100],
      [0, -10, 100],
    ])
    const d = document([ends, passing], [body], [port])
    // The body's far face is at x = 10, the stub ends at 20.
    expect(near(d).map(p => [`${p.a}-${p.b}`, Math.round(p.clearance * 1e6) / 1e6, p.exempt])).toEqual([
      ['R2-The body', -5, []],
      ['R1-R2', 4, []],
      ['R1-The body', 10, [{ end: 'A', length: 20 }]],
    ])
    const freed = document([level('r1', 0), passing], [body], [port])
    expect(near(freed).map(p => `${p.a}-${p.b}`)).toContain('R1-The body')
  })

  test('a run that folds back and touches itself is found; its neighbouring pieces are not', () => {
    const hook = (gapAcross: number) =>
      run('r1', [
        [0, 0, 100],
        [300, 0, 100],
        [300, 200, 100],
        [150, 200, 100],
        [150, 6 + 6 + gapAcross, 100],
        // Ends over its own first straight.
      ])
    expect(near(document([hook(5)])).map(p => [p.kind, Math.round(p.clearance * 1000) / 1000])).toEqual([
      // The flat end is 17 mm from the axis it looks at: 17 − 6.
      ['self', 11],
    ])
    const across = document([hook(-60)])
    expect(findings(across)).toMatchObject([
      { rule: 'selfClash', severity: 'error', id: 'clearance:r1:r1', where: { run: 'r1', other: 'r1' } },
    ])
    const plainBend = run('r1', [
      [0, 0, 100],
      [300, 0, 100],
      [300, 200, 100],
    ])
    expect(near(document([plainBend]))).toEqual([])
  })
})

describe('findings', () => {
  test('too close and clash are one identity, sorted by id, with figures', () => {
    const close = findings(document([level('r2', 0), level('r1', 20)]))
    expect(close).toMatchObject([
      {
        id: 'clearance:r1:r2',
        rule: 'tooClose',
        severity: 'warning',
        limit: 10,
        unit: 'mm',
        where: { run: 'r1', kind: 'pair', index: null, other: 'r2' },
      },
    ])
    expect(close[0]!.measured).toBeCloseTo(8, 9)
    expect(close[0]!.message).toBe(
      'R1, straight 1, and R2, straight 1, are 8.00 mm apart; 10.00 mm required.',
    )
    const clash = findings(document([level('r2', 0), level('r1', 9)]))
    expect(clash).toMatchObject([{ id: 'clearance:r1:r2', rule: 'clash', severity: 'error', limit: 0 }])
    expect(clash[0]!.measured).toBeCloseTo(-3, 9)
  })

  test('exactly what is asked for is enough, also when sums of inches round', () => {
    expect(findings(document([level('r1', 0.1 + 0.2), level('r2', 22.3)]))).toEqual([])
    expect(findings(document([level('r1', 0), level('r2', 21.999)]))).toHaveLength(1)
  })

  test('a floor above the run is a clash, a floor too near a warning, far below nothing', () => {
    const floor = (z: number): Solid => ({
      id: 'floor',
      name: 'Floor',
      kind: 'floor',
      fitting: null,
      shape: 'plane',
      at: [0, 0, z],
      normal: [0, 0, 2],
    })
    const rules = (z: number) => findings(document([level('r1', 0)], [floor(z)])).map(f => f.rule)
    expect(rules(120)).toEqual(['clash'])
    expect(rules(60)).toEqual(['tooClose'])
    expect(rules(40)).toEqual([])
  })

  test('insulation is outside: it clashes and is too close by its own surface', () => {
    const thick = { insulation: 100 }
    const [clash] = findings(document([level('r1', 0, thick), level('r2', 200, thick)]))
    expect(clash).toMatchObject({ rule: 'clash', severity: 'error', measured: expect.closeTo(-12, 6) })
    expect(findings(document([level('r1', 0, thick), level('r2', 216, thick)]))).toMatchObject([
      { rule: 'tooClose', limit: 10, measured: expect.closeTo(4, 6) },
    ])
  })

  test('a run without a route and a solid without a size are not checked, and say why', () => {
    const folded = run('r1', [
      [0, 0, 0],
      [100, 0, 0],
      [0, 0, 0],
    ])
    const d = document([folded, level('r2', 0)], [solid('flat', 'equipment', [0, 0, 100], [10, 10, 0])])
    expect(findings(d)).toMatchObject([
      { severity: 'notChecked', where: { run: 'r1' } },
      { severity: 'notChecked', where: { run: null, other: 'flat' } },
    ])
    expect(findings(d)[1]!.message).toContain('found edge 0, wanted a length above 0 mm')
  })

  test('an index that does not reach far enough is refused, not believed', () => {
    const d = document([level('r1', 0), level('r2', 20)])
    const index = createClearanceIndex(5)
    index.update(d, solveDocument(d))
    expect(() => findingsOfIndex(index, d)).toThrow(/found an index within 5 mm, wanted at least 10 mm/)
    expect(() => createClearanceIndex(Number.NaN)).toThrow(/found within NaN mm/)
  })
})

test('the command’s report has the pairs by tag and name, unrounded', () => {
  const d = document(
    [level('r1', 0), level('r2', 30.1234567)],
    [solid('frame', 'structure', [200, -60, 100], [50, 50, 50])],
  )
  const report = clearanceReport(d, solveDocument(d))
  expect(report.pairs.map(p => [p.a, p.b])).toEqual([
    ['R1', 'R2'],
    ['R1', 'The frame'],
    ['R2', 'The frame'],
  ])
  expect(Object.keys(report.pairs[0]!)).toEqual([
    'a',
    'b',
    'clearance',
    'errorBound',
    'pointA',
    'pointB',
    'required',
    'state',
  ])
  expect(report.pairs[0]!.clearance).toBeCloseTo(30.1234567 - 12, 7)
})
