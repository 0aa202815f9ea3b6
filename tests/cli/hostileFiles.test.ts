import { describe, expect, test } from 'vitest'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { sampleDocument } from '../document/sampleDocument.ts'
import { type Random, seeded } from '../random.ts'
import { dogleg } from './inMemory.ts'

const PLAIN = JSON.parse(writeDocument({ ...sampleDocument(), models: [] }))
const COMMANDS = [
  ['solve', 'd.json'],
  ['check', 'd.json', '--json'],
  ['clearance', 'd.json'],
  ['bench', 'd.json'],
  ['cutlist', 'd.json'],
  ['review', 'd.json', '--csv'],
  ['review', 'd.json', '--out', 'o.pdf'],
  ['sheet', 'd.json', '--out', 'o.pdf'],
  ['compare', 'd.json', 'plain.json'],
  ['compare', 'plain.json', 'd.json', '--json'],
  ...['step', 'glb', 'stl', 'dxf', 'json'].map(to => ['export', 'd.json', '--to', to, '--out', 'o']),
]

const NUMBERS = [
  0,
  -0,
  -1,
  1e-9,
  1e-300,
  5e-324,
  1e6,
  1e9,
  1e15,
  1e300,
  Number.MAX_VALUE,
  0.1,
  359.999,
  180,
  90,
]
const TEXTS = [
  '',
  ' ',
  '__proto__',
  'constructor',
  'A',
  'B',
  '\u0000',
  '\u202e',
  '=1+1',
  '<b>',
  'x'.repeat(5000),
  '🜁',
]
const OTHERS = [null, true, [], {}, [[]], [null], { __proto__: null, at: [0, 0, 0] }]

/** The document with one or a few values made other ones: of their type first, then of any. */
function hurt(random: Random): unknown {
  const copy = structuredClone(PLAIN)
  const pick = <T>(list: readonly T[]): T => structuredClone(list[random.whole(0, list.length - 1)]!)
  for (let n = random.whole(1, 3); n > 0; n--) {
    let holder = copy as Record<string, unknown>
    for (;;) {
      const key = pick(Object.keys(holder))
      if (key === undefined) break
      const value = holder[key]
      const isDeep = typeof value === 'object' && value !== null && Object.keys(value).length > 0
      if (isDeep && random.next() < 0.9) {
        holder = value as Record<string, unknown>
        continue
      }
      const way = random.next()
      if (way < 0.1 && !Array.isArray(holder)) delete holder[key]
      else if (way < 0.25) holder[key] = pick<unknown>([...NUMBERS, ...TEXTS, ...OTHERS])
      else if (typeof value === 'number')
        holder[key] = way < 0.6 ? pick(NUMBERS) : value * pick([-1, 1e-6, 1e3, 1e6])
      else if (typeof value === 'string') holder[key] = pick(TEXTS)
      else holder[key] = pick<unknown>(OTHERS)
      break
    }
  }
  return copy
}

describe('a hostile file is refused with its place, or answered; it is never a fault of the program', () => {
  for (const seed of [11, 12, 13, 14]) {
    test(`values of any kind anywhere (seed ${seed})`, async () => {
      const random = seeded(seed)
      let [answered, refused] = [0, 0]
      for (let i = 0; i < 60; i++) {
        const text = JSON.stringify(hurt(random))
        const files = { 'd.json': text, 'plain.json': JSON.stringify(PLAIN) }
        for (const args of i % 4 === 0 ? COMMANDS : COMMANDS.slice(1, 5)) {
          const { code, out, err, written } = await dogleg(args, files)
          const why = `${args.join(' ')}\n${err}\n${text}`
          expect([0, 1, 2], why).toContain(code)
          if (code === 2) {
            refused++
            expect([out, written], why).toEqual(['', {}])
            for (const line of err.trimEnd().split('\n')) expect(line, why).toMatch(/^dogleg: .+: .*found .+/)
          } else {
            answered++
            expect(out, why).not.toMatch(/\bNaN\b|undefined|\[object/)
          }
        }
      }
      expect(Math.min(answered, refused)).toBeGreaterThan(20)
    })
  }
})
