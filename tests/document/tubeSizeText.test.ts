import { expect, test } from 'vitest'
import { tubeSizeText } from '../../src/document/tubeSizeText.ts'

test.each([
  [
    'a size of the catalogue by its name, in any unit',
    9.525,
    0.889,
    '3/8 × 0.035 in',
    '3/8 × 0.035 in',
    '3/8 × 0.035 in',
  ],
  ['a metric size alike', 12, 1.5, '12 × 1.5 mm', '12 × 1.5 mm', '12 × 1.5 mm'],
  [
    'an inch OD with a wall of no table keeps every digit',
    9.525,
    0.8128,
    '9.525 × 0.8128 mm',
    '0.375 × 0.032 in',
    '3/8 × 0.032 in',
  ],
  [
    'an OD that is no fraction is written in decimals',
    11.1,
    1.1,
    '11.1 × 1.1 mm',
    '0.437 × 0.0433 in',
    '0.437 × 0.0433 in',
  ],
] as const)('%s', (_, od, wall, mm, inch, fraction) => {
  expect(tubeSizeText({ od, wall }, 'mm')).toBe(mm)
  expect(tubeSizeText({ od, wall }, 'in')).toBe(inch)
  expect(tubeSizeText({ od, wall }, 'fraction')).toBe(fraction)
})
