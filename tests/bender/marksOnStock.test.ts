import { describe, expect, test } from 'vitest'
import { benchReport, type ReportedRun } from '../../src/bender/benchCommand.ts'
import { checkBendOrder } from '../../src/bender/checkBendOrder.ts'
import { housingCheck } from '../../src/bender/housingCheck.ts'
import type { SkidDocument, Tooling } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'

/** One or two bends between free ends, first and last straight given, at CLR 36, on a clamp and follower that need little. */
function document(
  bends: 1 | 2,
  [first, last]: readonly [number, number],
  change: Partial<Tooling>,
  bare = false,
): SkidDocument {
  const corner: Vec3 = [first + 36, 0, 0]
  const run =
    bends === 1
      ? runOf('r1', [corner], { endB: { kind: 'free', at: [first + 36, 36 + last, 0] }, trimAllowance: 0 })
      : runOf('r1', [corner, [first + 36, 172, 0]], {
          endB: { kind: 'free', at: [first + 36, 172, 36 + last] },
          trimAllowance: 0,
        })
  const made = documentOf([run])
  return {
    ...made,
    benders: made.benders.map(b => ({
      ...b,
      ...(bare ? { housing: [], arm: [], benchTop: null } : {}),
      tooling: b.tooling.map(t => ({ ...t, clampGrip: 5, followerLength: 5, ...change })),
    })),
  }
}
const found = (d: SkidDocument) => housingCheck(d, solveDocument(d)[0]!)

describe('a mark that would lie off the stock', () => {
  test('ahead of the leading end is no order to propose: the end where it lies on the tube leads', () => {
    const d = document(2, [10, 90], { referenceOffset: -20 })
    const [report] = benchReport(d, solveDocument(d), { lead: 'best' }).runs as [ReportedRun]
    expect(report.steps.every(s => s.mark >= 0 && s.mark <= report.cutLength)).toBe(true)
    expect(found(d)).toMatchObject([{ rule: 'housingOrder' }])
    expect(found(d)[0]!.message).toMatch(/cannot be marked when end A leads/)
  })

  test.each([
    ['ahead of both ends', 10, 12, -20, 'A', 10],
    ['past the trailing end, whichever leads', 30, 30, 110, 'B', 110 - 30 - 18 * Math.PI],
  ] as const)(
    '%s is an error with the end and by how much, with and without solids of the bender',
    (_, first, last, referenceOffset, end, off) => {
      for (const bare of [false, true]) {
        const d = document(1, [first, last], { referenceOffset }, bare)
        const error = found(d).find(f => f.rule === 'housingHold')
        expect(error?.severity).toBe('error')
        expect(error?.message).toContain(`off end ${end} of the stock`)
        expect(Math.abs(error!.measured! - error!.limit!)).toBeCloseTo(off, 6)
      }
    },
  )

  test('on an end that was asked for is a finding of that order', () => {
    const d = document(2, [10, 90], { referenceOffset: -20 })
    const { findings } = checkBendOrder(d, solveDocument(d)[0]!, 'A')
    expect(findings.find(f => f.rule === 'housingHold')?.message).toMatch(
      /bend 1 cannot be marked: its mark would lie 10 mm off end A of the stock/,
    )
  })

  test('exactly at the end of the stock is on it', () => {
    const d = document(1, [20, 20], { referenceOffset: -20 })
    expect(found(d).filter(f => f.rule === 'housingHold')).toEqual([])
  })
})
