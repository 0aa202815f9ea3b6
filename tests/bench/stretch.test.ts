import { describe, expect, test } from 'vitest'
import { layOut, orderFrom } from '../../src/bench/layOut.ts'
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
const solved = solveRun(document, document.runs[0]!)
const tooling = document.benders[0]!.tooling.find(t => t.od === 12 && t.clr === 36)!
const laid = (stretchAt90?: number) =>
  layOut(solved, stretchAt90 === undefined ? tooling : { ...tooling, stretchAt90 }, null, {
    hand: 'left',
    kind: 'rotaryDraw',
    order: orderFrom('A', 2),
  })

describe('stretch', () => {
  test('comes off the cut length, in proportion to each angle', () => {
    expect(laid().cutLength).toBeCloseTo(solved.cutLength!, 9)
    expect(laid(2).stretch).toBeCloseTo(2 + 1, 9)
    expect(laid(2).cutLength).toBeCloseTo(solved.cutLength! - 3, 9)
  })
  test('moves every mark after the bend that stretches towards the leading end, and none before', () => {
    const [plain, stretched] = [laid(), laid(2)]
    expect(stretched.steps[0]!.mark).toBeCloseTo(plain.steps[0]!.mark, 9)
    expect(stretched.steps[1]!.mark).toBeCloseTo(plain.steps[1]!.mark - 2, 9)
    expect(stretched.steps[0]!.stockUsed).toBeCloseTo(plain.steps[0]!.stockUsed - 2, 9)
  })
})
