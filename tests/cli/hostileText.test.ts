import { describe, expect, test } from 'vitest'
import type { SkidDocument } from '../../src/document/types.ts'
import { visibleText } from '../../src/document/visibleText.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { csvCell, csvLines } from '../../src/outputs/csvCell.ts'
import { sampleDocument } from '../document/sampleDocument.ts'
import { dogleg } from './inMemory.ts'

const HOSTILE = '\u001b[2J\u009b31m\r\n9 open, 9 accepted\u0007\u202egpj.exe\u2066\u007f\u2028end'
/** What must not reach a terminal as it is: all that moves, hides or reorders, but ends of lines and tabs. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const RAW = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/

/** Every text of the document that is no id with hostile characters in it. */
function hostile(value: unknown, name = ''): unknown {
  if (Array.isArray(value)) return value.map(entry => hostile(entry, name))
  if (typeof value === 'object' && value !== null)
    return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, hostile(v, k)]))
  const shown = ['name', 'note', 'tag', 'service', 'reason', 'by', 'type', 'material', 'fileName']
  return typeof value === 'string' && shown.includes(name) ? `${value}${HOSTILE}` : value
}
const document = hostile(sampleDocument()) as SkidDocument
const earlier = { ...document, runs: document.runs.slice(0, 1), note: `more${HOSTILE}` }
const FILES = { 'd.json': writeDocument(document), 'was.json': writeDocument(earlier) }

const PRINTING = [
  ['solve', 'd.json'],
  ['check', 'd.json'],
  ['clearance', 'd.json', '--within', '5000'],
  ['bench', 'd.json'],
  ['bench', 'd.json', '--run', document.runs[0]!.tag],
  ['compare', 'd.json', 'was.json'],
  ['cutlist', 'd.json'],
  ['cutlist', 'd.json', '--stock', '1000*1'],
  ['review', 'd.json', '--csv'],
  ['strip', 'd.json', '--run', HOSTILE, '--out', 'o'],
  ['export', 'd.json', '--to', HOSTILE, '--out', 'o'],
  [HOSTILE, 'd.json'],
  ['check', HOSTILE],
  ['check', 'd.json', `--${HOSTILE}`],
]

describe('characters that move the cursor, hide or reorder text never reach the terminal', () => {
  test.each(PRINTING.map(p => [p.map(visibleText).join(' '), p] as const))('%s', async (_, args) => {
    const { out, err } = await dogleg(args, FILES)
    expect(out + err).not.toBe('')
    // A cell of a table keeps its line ends, in quotes; CRLF ends its rows.
    expect((out + err).replaceAll('\r\n', '\n')).not.toMatch(RAW)
    if (!args.includes('--csv'))
      expect(out + err, 'a line that the file made').not.toMatch(/^9 open, 9 accepted/m)
  })

  test.each(PRINTING.slice(0, 7))('%s as JSON: escaped, and the same text when read', async (...args) => {
    const { out, err } = await dogleg([...args, '--json'], FILES)
    expect(err).not.toMatch(RAW)
    expect(out).not.toMatch(RAW)
    expect(JSON.stringify(JSON.parse(out))).toContain('\u202egpj.exe')
  })

  test('a file that is refused quotes what it holds visibly', async () => {
    const bad = { 'd.json': JSON.stringify({ ...document, [HOSTILE]: 1, version: 2 }) }
    const { code, err } = await dogleg(['check', 'd.json'], bad)
    expect([code, err.match(RAW)]).toEqual([2, null])
    const table = { 't.csv': `x,y,z\n0,0,${HOSTILE}\n1,2,3\n` }
    const cell = await dogleg(['solve', 't.csv', '--od', '6', '--wall', '1', '--clr', '18'], table)
    expect([cell.code, cell.err.match(RAW)]).toEqual([2, null])
  })
})

test('visible text is one line and leaves letters of every script alone', () => {
  expect(visibleText('a\u202eb\u001bc\nd')).toBe('a[U+202E]b␛c␊d')
  const plain = 'Rücklauf 12 × 1,5 – שלום – سلام – می‌خواهم – ½″ – 漢字'
  expect(visibleText(plain)).toBe(plain)
})

describe('a cell of a table is never a formula', () => {
  const begins = ['=', '+', '-', '@', '＝', '＋', '－', '＠']
  test.each(
    begins.flatMap(b =>
      ['', ' ', '\n', '\r\n', '\t', '\u00a0', '\u200b', '\ufeff'].map(before => before + b),
    ),
  )('one that begins with %j', begin => {
    const cell = csvCell(`${begin}1+1`)
    expect(cell.replace(/^"/, '')).toMatch(/^'/)
  })
  test('one that begins with a line end or a tab, or has a formula behind another separator', () => {
    for (const text of ['\nx', '\rx', '\tx']) expect(csvCell(text)).toMatch(/^"'/)
    expect(csvCell('a;=1+1;b')).toBe('"a;\'=1+1;b"')
    expect(csvCell('a\t@x')).toBe('"a\t\'@x"')
  })
  test('what nobody sees in it is made visible, and a row stays one line', () => {
    const line = csvLines([['a\u202eb\u001b[31m', 'c\n=1+1', 2]])
    expect(line).toBe('a[U+202E]b␛[31m,c␊=1+1,2\r\n')
  })
  test('plain text and figures stay', () => {
    expect([csvCell('AE-101'), csvCell(-3.5), csvCell('a=b'), csvCell('12 × 1.5'), csvCell(null)]).toEqual([
      'AE-101',
      '-3.5',
      'a=b',
      '12 × 1.5',
      '',
    ])
  })
})
