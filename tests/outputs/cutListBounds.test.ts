import { describe, expect, test } from 'vitest'
import type { SkidDocument } from '../../src/document/types.ts'
import { cutList, MOST_PIECES } from '../../src/outputs/cutList.ts'
import { leastPayable } from '../../src/outputs/leastPayable.ts'
import { nestOnStock } from '../../src/outputs/nestOnStock.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'

const straight = (id: string, length: number, quantity: number) =>
  runOf(id, [], {
    ...{ endA: { kind: 'free', at: [0, 0, 0] }, endB: { kind: 'free', at: [length, 0, 0] } },
    ...{ trimAllowance: 0, quantity },
  })
const listOf = (document: SkidDocument, mostNodes = 2_000) =>
  cutList(document, solveDocument(document), { mostNodes })

describe('a cut list has a plain limit', () => {
  test.each([MOST_PIECES + 1, 1e5, 1e9, Number.MAX_SAFE_INTEGER])(
    '%d pieces of one tube are refused by count and limit, before any work',
    quantity => {
      const said = `found ${quantity.toLocaleString('en-GB')} pieces, wanted at most 5,000 of one tube`
      expect(() => listOf(documentOf([straight('r', 700, quantity)]))).toThrow(said)
    },
  )

  test('the pieces of all runs of a tube count together, those of another tube by themselves', () => {
    const runs = [straight('a', 700, 3_000), straight('b', 900, 2_001)]
    expect(() => listOf(documentOf(runs))).toThrow('found 5,001 pieces')
    const other = { ...runs[1]!, tube: { ...runs[1]!.tube, od: 16 }, bender: null }
    expect(listOf(documentOf([runs[0]!, other])).groups.map(g => g.pieces)).toEqual([3_000, 2_001])
  })

  test('as many as the limit are cut, one to a bar too, and no message speaks of endless stock', () => {
    for (const length of [700, 4_000]) {
      const [group] = listOf(documentOf([straight('r', length, MOST_PIECES)])).groups
      expect([group!.pieces, group!.proven]).toEqual([MOST_PIECES, true])
    }
    const sizes = Array.from({ length: MOST_PIECES }, (_, i) => 3_100 + i / 2)
    expect(nestOnStock(sizes, [{ room: 6_000, cost: 6_000, count: null }]).bars).toHaveLength(MOST_PIECES)
  })

  test('prices far below the others do not make the sums of whole bars endless', () => {
    const kinds = [6_000, 0.02, 0.01].map(cost => ({ room: cost, cost, count: null }))
    expect(leastPayable(kinds)(30_000_000)).toBe(30_000_000)
    // Few sums are looked at as before.
    expect(leastPayable([6_000, 4_000].map(c => ({ room: c, cost: c, count: null })))(9_000)).toBe(10_000)
  })
})
