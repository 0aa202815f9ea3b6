import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { KNOWN_RULES, ruleWords } from '../../src/checks/ruleWords.ts'

/** Rules as the checks' sources name them. */
function rulesInSource(): string[] {
  const sources = ['checks', 'skid', 'bench'].flatMap(folder => {
    const at = new URL(`../../src/${folder}/`, import.meta.url)
    return readdirSync(at, { recursive: true, encoding: 'utf8' })
      .filter(f => f.endsWith('.ts'))
      .map(f => readFileSync(new URL(f, at), 'utf8'))
  })
  return sources.flatMap(text =>
    [...text.matchAll(/\brule(?::| =) ([^,;\n]*)/g)].flatMap(m =>
      [...m[1]!.matchAll(/(?<!\[)'(\w+)'/g)].map(w => w[1]!),
    ),
  )
}

test('every rule that a check names has its heading in plain words', () => {
  const rules = new Set(rulesInSource())
  expect(rules.size).toBeGreaterThan(15)
  expect([...rules].filter(r => !KNOWN_RULES.includes(r))).toEqual([])
})

test('a rule of elsewhere reads as words too', () => {
  expect(ruleWords('somethingElse')).toBe('something else')
  expect(ruleWords('constructor')).toBe('constructor')
})
