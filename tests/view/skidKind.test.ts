import { expect, test } from 'vitest'
import { skidKind } from '../../src/view/panels/skidKind.ts'

test('a skid whose name ends in the word is not called a skid twice', () => {
  expect(skidKind({ name: 'Feed-pump skid', invented: false })).toBe('')
  expect(skidKind({ name: 'Feed-pump Skid ', invented: true })).toBe('invented figures')
  expect(skidKind({ name: 'Skid 4', invented: false })).toBe('skid')
  expect(skidKind({ name: 'Dosing panel', invented: true })).toBe('skid, invented figures')
})
