import { describe, expect, test } from 'vitest'
import { COMMANDS } from '../../src/cli/main.ts'
import { readOptions } from '../../src/cli/readOptions.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { sampleDocument } from '../document/sampleDocument.ts'
import { dogleg } from './inMemory.ts'

const FILES = { 'd.json': writeDocument(sampleDocument()), 'p.csv': 'x,y,z\n0,0,0\n100,0,0\n' }
const refused = async (...args: string[]) => {
  const told = await dogleg(args, FILES)
  expect([told.code, told.out, told.written], args.join(' ')).toEqual([2, '', {}])
  return told.err
}

describe.each(COMMANDS.map(c => [c.name, c] as const))('%s', (name, { options }) => {
  test('refuses an option that it does not have in its own words, and lists each that it has once', async () => {
    const err = await refused(name, 'd.json', '--fast')
    expect(err).toMatch(new RegExp(`^dogleg: --fast: ${name} does not take it; wanted one of --`))
    for (const option of Object.keys(options))
      expect(err.match(new RegExp(`--${option}(?=[,\\n])`, 'g')), option).toHaveLength(1)
    expect(await refused(name, 'd.json', '-x')).toContain(`-x: ${name} does not take it`)
  })

  test('says of each option what it takes when its value is left out, and refuses one given twice', async () => {
    for (const [option, { takes, many }] of Object.entries(options)) {
      if (takes === null) {
        const err = await refused(name, 'd.json', `--${option}=yes`)
        expect(err).toBe(`dogleg: --${option}: found "yes"; wanted it without a value\n`)
        continue
      }
      expect(await refused(name, 'd.json', `--${option}`)).toBe(
        `dogleg: --${option}: found nothing; wanted ${takes} after it\n`,
      )
      expect(await refused(name, 'd.json', `--${option}`, '--json')).toContain('found "--json", an option')
      if (!many)
        expect(await refused(name, 'd.json', `--${option}`, '1', `--${option}=2`)).toContain(
          'found it twice, "1" and "2"',
        )
    }
  })

  test('refuses a word that means nothing, and an empty one, for each option', async () => {
    const needed: Record<string, string[]> = {
      sheet: ['--out', 'o'],
      review: ['--out', 'o'],
      strip: ['--run', 'TAG-r1', '--out', 'o'],
      export: ['--to', 'json', '--out', 'o'],
      compare: ['d.json'],
      rows: ['--clr', '20'],
    }
    const free = ['owner', 'number', 'title', 'creator', 'approver', 'revision', 'reason', 'released-by']
    const file = name === 'rows' ? 'p.csv' : 'd.json'
    for (const [option, { takes }] of Object.entries(options)) {
      if (takes === null || free.includes(option) || (option === 'out' && name !== 'cutlist')) continue
      for (const word of option === 'out' ? ['nonsense'] : ['nonsense', '', '1e999', '-1', 'NaN']) {
        const given = needed[name] ?? []
        const at = given.indexOf(`--${option}`)
        const rest = at < 0 ? given : given.toSpliced(at, 2)
        const err = await refused(name, file, ...rest, `--${option}=${word}`)
        expect(err, `${option} ${word}`).toMatch(/^dogleg: .*(wanted|not take)/)
        expect(err).not.toMatch(/\n\s+at /)
      }
    }
  })
})

test('a value may begin with a hyphen, and everything behind -- is a word', () => {
  const { values, words } = readOptions(
    ['a', '--tolerances', '-,-,-,-', '--run', '-5', '--run=--odd', '--', '--run'].toSpliced(3, 2),
    { tolerances: { takes: 'X' }, run: { takes: 'TAG' } },
    'sheet',
  )
  expect([values, words]).toEqual([{ tolerances: '-,-,-,-', run: '--odd' }, ['a', '--run']])
})

test('no tolerance at all may be given as four hyphens', async () => {
  const told = await dogleg(
    ['sheet', 'd.json', '--run', 'TAG-r1', '--tolerances', '-,-,-,-', '--out', 'o.pdf'],
    FILES,
  )
  expect([told.code, told.err, Object.keys(told.written)]).toEqual([0, '', ['o.pdf']])
})

test('a bender that is nowhere is bad input for every command that takes one, and each is listed once', async () => {
  for (const args of [
    ['bench', 'd.json', '--bender', 'none'],
    ['bench', 'd.json', '--run', 'TAG-r1', '--bender', 'none'],
    ['check', 'p.csv', '--od', '12', '--wall', '1', '--clr', '36', '--bender', 'none'],
  ]) {
    const err = await refused(...args)
    expect(err).toMatch(/^dogleg: --bender: found "none"; wanted one of /)
    expect(err.match(/bench-left/g), args.join(' ')).toHaveLength(1)
  }
})
