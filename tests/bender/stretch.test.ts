import { describe, expect, test } from 'vitest'
import { layOut, orderFrom } from '../../src/bender/layOut.ts'
import type { Tooling } from '../../src/document/types.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'

/** A 90° bend, then a 45° one, free ends; straights of 264 … mm at CLR 36. */
const document = documentOf([
  runOf(
    'r1',
    [
      [0, 0, 300],
      [400, 0, 300],
    ],
    { endA: { kind: 'free', at: [0, 0, 0] }, endB: { kind: 'free', at: [600, 200, 300] }, trimAllowance: 0 },
  ),
])
const plainTooling = document.benders[0]!.tooling.find(t => t.od === 12 && t.clr === 36)!

function laid(stretchAt90?: number) {
  const tooling: Tooling = stretchAt90 === undefined ? plainTooling : { ...plainTooling, stretchAt90 }
  const benders = document.benders.map(b => ({
    ...b,
    tooling: b.tooling.map(t => (t === plainTooling ? tooling : t)),
  }))
  const solved = solveRun({ ...document, benders }, document.runs[0]!)
  return {
    solved,
    ...layOut(solved, tooling, null, { hand: 'left', kind: 'rotaryDraw', order: orderFrom('A', 2) }),
  }
}

describe('stretch', () => {
  test('comes off the cut length, in proportion to each angle', () => {
    expect(laid().cutLength).toBeCloseTo(laid().solved.route!.developedLength, 9)
    expect(laid(2).stretch).toBeCloseTo(2 + 1, 9)
    expect(laid(2).cutLength).toBeCloseTo(laid().cutLength - 3, 9)
    expect(laid(2).solved.cutLength).toBe(laid(2).cutLength)
  })
  test('moves every mark after the bend that stretches towards the leading end, and none before', () => {
    const [plain, stretched] = [laid(), laid(2)]
    expect(stretched.steps[0]!.mark).toBeCloseTo(plain.steps[0]!.mark, 9)
    expect(stretched.steps[1]!.mark).toBeCloseTo(plain.steps[1]!.mark - 2, 9)
    expect(stretched.steps[0]!.stockUsed).toBeCloseTo(plain.steps[0]!.stockUsed - 2, 9)
  })
})
