import { expect, test } from 'vitest'
import { idWords, isOfBender, isOfGap, RULES, type Rule, ruleWords } from '../../src/findings/rules.ts'

const rules = Object.keys(RULES) as Rule[]

test('every rule has its own heading in plain words: no two read alike, none is its own name', () => {
  const words = rules.map(ruleWords)
  expect(new Set(words).size).toBe(rules.length)
  expect(words.filter(w => /[a-z][A-Z]/.test(w) || w !== w.trim() || w === '')).toEqual([])
})

test('an id of a file reads as words, whatever it begins with', () => {
  expect(idWords('clash')).toBe('clash')
  expect(idWords('tooClose')).toBe('too close')
  expect(idWords('somethingElse')).toBe('something else')
  expect(idWords('constructor')).toBe('constructor')
})

test('what is of the bender and what is a gap are told apart', () => {
  expect(rules.filter(isOfBender).sort()).toEqual([
    'housingClash',
    'housingHold',
    'housingNotChecked',
    'housingOrder',
  ])
  expect(rules.filter(isOfGap).sort()).toEqual(['clash', 'selfClash', 'tooClose'])
})
