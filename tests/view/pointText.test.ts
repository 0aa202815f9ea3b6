import { expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, RunEnd, SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { pastePoints, pointsToText, textToPoints } from '../../src/view/panels/pointText.ts'

const points: Vec3[] = [
  [0, 0, 0],
  [157.1625, 0.1 + 0.2, -3],
  [1 / 3, 2, 3],
]

test('copied points are pasted back exactly in every unit', () => {
  for (const unit of ['mm', 'in', 'fraction'] as const)
    expect(textToPoints(pointsToText(points, unit), unit)).toEqual({ ok: true, points })
})

test('points copied in inches are the same points pasted while mm are shown', () => {
  expect(textToPoints(pointsToText(points, 'in'), 'mm')).toEqual({ ok: true, points })
  expect(textToPoints(pointsToText(points, 'mm'), 'fraction')).toEqual({ ok: true, points })
})

test('a pasted figure may carry its own unit, and a header is passed over', () => {
  expect(textToPoints('x\ty\tz\n1in\t2\t3 1/2"', 'mm')).toEqual({ ok: true, points: [[25.4, 2, 88.9]] })
})

test('a bad figure and a missing column are refused by line', () => {
  expect(textToPoints('1\t2\t3\n4\t1,5\t6', 'mm')).toMatchObject({
    ok: false,
    reason: expect.stringContaining('row 2, column 2'),
  })
  expect(textToPoints('1\t2', 'mm')).toMatchObject({
    ok: false,
    reason: expect.stringContaining('row 1, column 3'),
  })
  expect(textToPoints('  \n', 'mm')).toMatchObject({ ok: false })
})

const run = (endA: RunEnd, endB: RunEnd, vertices: Vec3[]): Run => ({
  id: 'r1',
  tag: 'L-1',
  service: '',
  tube: { catalogueId: null, od: 12, wall: 1.5, material: '316' },
  clr: 36,
  bender: null,
  endA,
  vertices: vertices.map((at, i) => ({ id: `v${i + 1}`, at })),
  endB,
  trimAllowance: 0,
  insulation: 0,
  quantity: 1,
})
const skid = (r: Run): SkidDocument => ({
  ...emptyDocument('test'),
  fittings: [
    {
      id: 'f1',
      name: 'Inlet',
      catalogueId: null,
      position: [0, 0, 0],
      axis: [1, 0, 0],
      insertionDepth: 10,
      straightNeeded: 20,
      tubeOd: null,
    },
  ],
  runs: [r],
})
const pasted = (r: Run, row: number, to: Vec3[]): Run => {
  const next = pastePoints(skid(r), r, row, to)
  if ('refused' in next) throw new Error(next.refused)
  return next.runs[0]!
}
const free = (at: Vec3): RunEnd => ({ kind: 'free', at })
const port: RunEnd = { kind: 'port', fitting: 'f1' }

test('points pasted inside the route overwrite just as many, and vertices keep their ids', () => {
  const before = run(free([0, 0, 0]), free([9, 9, 9]), [
    [1, 1, 1],
    [2, 2, 2],
    [3, 3, 3],
  ])
  const after = pasted(before, 1, [
    [10, 0, 0],
    [20, 0, 0],
  ])
  expect(after.vertices).toEqual([
    { id: 'v1', at: [10, 0, 0] },
    { id: 'v2', at: [20, 0, 0] },
    { id: 'v3', at: [3, 3, 3] },
  ])
  expect(after.endB).toEqual(free([9, 9, 9]))
})

test('a whole longer route pasted at end A becomes the route', () => {
  const after = pasted(run(free([0, 0, 0]), free([9, 9, 9]), [[1, 1, 1]]), 0, [
    [1, 0, 0],
    [2, 0, 0],
    [3, 0, 0],
    [4, 0, 0],
  ])
  expect(after.endA).toEqual(free([1, 0, 0]))
  expect(after.vertices.map(v => v.at)).toEqual([
    [2, 0, 0],
    [3, 0, 0],
  ])
  expect(after.endB).toEqual(free([4, 0, 0]))
})

test('an end in a port is never moved by pasting: past it points become vertices', () => {
  const after = pasted(run(free([50, 0, 0]), port, [[1, 1, 1]]), 1, [
    [10, 0, 0],
    [20, 0, 0],
  ])
  expect(after.endB).toEqual(port)
  expect(after.vertices.map(v => v.at)).toEqual([
    [10, 0, 0],
    [20, 0, 0],
  ])
})

test('pasting another place over a port is refused, its own place is fine', () => {
  const r = run(port, free([9, 9, 9]), [[1, 1, 1]])
  expect(pastePoints(skid(r), r, 0, [[5, 5, 5]])).toMatchObject({ refused: expect.stringContaining('port') })
  expect(
    pasted(r, 0, [
      [0, 0, 0],
      [7, 7, 7],
    ]).vertices[0]!.at,
  ).toEqual([7, 7, 7])
})
