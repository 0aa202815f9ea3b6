import { describe, expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { editRow, type RowEdit } from '../../src/solve/editRows.ts'
import { solveRun } from '../../src/solve/solveRun.ts'

/** Lopsided on purpose: three bends in three planes, no two legs alike. */
const points: Vec3[] = [
  [0, 0, 0],
  [200, 0, 0],
  [300, 100, 50],
  [300, 250, 150],
  [450, 250, 150],
]

function skid(ends: 'free' | 'ports'): SkidDocument {
  const port = (id: string, at: Vec3, axis: Vec3) => ({
    id,
    name: id,
    catalogueId: null,
    position: at,
    axis,
    insertionDepth: 17,
    straightNeeded: 30,
    tubeOd: 12,
  })
  const run: Run = {
    id: 'r1',
    tag: 'AE-101',
    service: 'air',
    tube: { catalogueId: null, od: 12, wall: 1, material: '316' },
    clr: 38.1,
    bender: null,
    trimAllowance: 0,
    insulation: 0,
    quantity: 1,
    endA: ends === 'free' ? { kind: 'free', at: points[0]! } : { kind: 'port', fitting: 'f1' },
    vertices: points.slice(1, 4).map((at, i) => ({ id: `v${i + 1}`, at })),
    endB: ends === 'free' ? { kind: 'free', at: points[4]! } : { kind: 'port', fitting: 'f2' },
  }
  return {
    ...emptyDocument('test'),
    fittings: ends === 'free' ? [] : [port('f1', points[0]!, [1, 0, 0]), port('f2', points[4]!, [-1, 0, 0])],
    runs: [run],
  }
}
const solved = (document: SkidDocument) => solveRun(document, document.runs[0]!).route!
function edited(document: SkidDocument, edit: RowEdit, keep: 'A' | 'B') {
  const result = editRow(document, 'r1', edit, keep)
  if (!result.ok) throw new Error(result.reason)
  return solved(result.document)
}

describe('editing one row of the bend table', () => {
  const edits: RowEdit[] = [
    { kind: 'straight', index: 1, to: 150 },
    { kind: 'angle', index: 1, to: 60 },
    { kind: 'rotation', index: 1, to: -75 },
    { kind: 'straight', index: 3, to: 5 },
    { kind: 'rotation', index: 2, to: 33 },
    { kind: 'angle', index: 0, to: 91 },
  ]
  test.each(edits)('$kind $index: with free ends only that figure changes, and the kept end stays', edit => {
    const before = solved(skid('free'))
    for (const keep of ['A', 'B'] as const) {
      const after = edited(skid('free'), edit, keep)
      const at = keep === 'A' ? 0 : 4
      expect(distance(after.points[at]!, before.points[at]!)).toBeLessThan(1e-12)
      before.straights.forEach((s, i) => {
        expect(after.straights[i]).toBeCloseTo(edit.kind === 'straight' && i === edit.index ? edit.to : s, 9)
      })
      before.bends.forEach((b, i) => {
        expect(after.bends[i]!.angle).toBeCloseTo(
          edit.kind === 'angle' && i === edit.index ? edit.to : b.angle,
          9,
        )
        if (b.rotation !== null)
          expect(after.bends[i]!.rotation).toBeCloseTo(
            edit.kind === 'rotation' && i === edit.index ? edit.to : b.rotation,
            9,
          )
      })
    }
  })

  test('an end in its port stays there and the leg beside it takes up the difference', () => {
    const before = solved(skid('ports'))
    const after = edited(skid('ports'), { kind: 'straight', index: 1, to: 150 }, 'A')
    expect(after.straights[1]).toBeCloseTo(150, 9)
    expect(after.points[4]).toEqual(before.points[4])
    expect(after.bends[2]!.angle).not.toBeCloseTo(before.bends[2]!.angle, 3)
  })

  test('an edit that could move nothing is refused with its reason', () => {
    const result = editRow(skid('ports'), 'r1', { kind: 'straight', index: 3, to: 90 }, 'A')
    expect(result).toMatchObject({ ok: false, reason: expect.stringContaining('End B stays in its port') })
  })

  test.each([0, 180, -20, Number.NaN])('an angle of %s° is refused', to => {
    expect(editRow(skid('free'), 'r1', { kind: 'angle', index: 0, to }, 'A')).toMatchObject({
      ok: false,
      reason: expect.stringContaining('bend 1'),
    })
  })
})
