import { describe, expect, test } from 'vitest'
import { checkBendOrder } from '../../src/bender/checkBendOrder.ts'
import { housingCheck } from '../../src/bender/housingCheck.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { sampleDocument } from '../document/sampleDocument.ts'

/** The sample with this springback for every angle, degrees. */
function springingBack(offset: number): SkidDocument {
  const sample = sampleDocument()
  return {
    ...sample,
    benders: sample.benders.map(b => ({ ...b, springback: b.springback.map(s => ({ ...s, offset })) })),
  }
}

describe('a springback that no arm can make up for', () => {
  test.each([400, 1.5e6, 1e300, -200])(
    'of %d° is not swept: its clearance is not checked, and that is said',
    offset => {
      const document = springingBack(offset)
      const [run] = solveDocument(document)
      const found = housingCheck(document, run!)
      expect(found.map(f => [f.rule, f.severity])).toEqual([['housingNotChecked', 'notChecked']])
      expect(found[0]!.message).toMatch(
        /bend 1: found a dial reading of .*° with its springback, wanted .* at most 360°/,
      )
      expect(() => checkBendOrder(document, run!, 'A')).toThrow('wanted more than 0° and at most 360°')
    },
  )

  test('one that an arm can make up for is swept', () => {
    const document = springingBack(60)
    const [run] = solveDocument(document)
    expect(housingCheck(document, run!).filter(f => f.severity === 'notChecked')).toEqual([])
  })
})
