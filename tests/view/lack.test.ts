import { expect, test } from 'vitest'
import { lengthKind } from '../../src/view/fields/quantityKind.ts'

test('what is missing never reads like nothing, in any unit', () => {
  // Less than half of the last digit that each unit shows by itself.
  for (const [unit, mm] of [
    ['mm', 0.004],
    ['in', 0.001],
    ['fraction', 0.3],
  ] as const) {
    expect(Number(lengthKind(unit).show(mm)), unit).toBe(0)
    expect(lengthKind(unit).lack(mm), unit).toMatch(/[1-9]/)
  }
  expect(lengthKind('mm').lack(8.91)).toBe(lengthKind('mm').show(8.91))
})
