import { expect, test } from 'vitest'
import { readOrder } from '../../src/bender/orderText.ts'

test('an order that leaves bends out names them, one or many', () => {
  expect(readOrder('A 4', 4)).toBe('bends 1, 2 and 3 are missing')
  expect(readOrder('4A', 4)).toBe('bends 1, 2 and 3 are missing')
  expect(readOrder('B 3 1', 4)).toBe('bends 2 and 4 are missing')
  expect(readOrder('A 1 2 3', 4)).toBe('bend 4 is missing')
})
