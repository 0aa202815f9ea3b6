import { expect, test } from 'vitest'
import { readDocument } from '../../src/document/readDocument.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { seeded } from '../random.ts'
import { sampleDocument } from './sampleDocument.ts'

const SEED = 90210
const MUTANTS = 10_000

const ODD: readonly unknown[] = [
  null,
  true,
  0,
  -1,
  1e308,
  1e-320,
  0.5,
  '',
  'A',
  '__proto__',
  '=cmd',
  '\u0000',
  [],
  {},
  [[[]]],
  { kind: 'port' },
  'x'.repeat(5000),
]

/** A copy of the value with one place in it replaced, removed, doubled or renamed. */
function mutated(value: unknown, random: () => number): unknown {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!
  const deeper = typeof value === 'object' && value !== null && random() < 0.85
  if (!deeper) return pick(ODD)
  if (Array.isArray(value)) {
    const copy = [...value]
    const i = Math.floor(random() * (copy.length + 1))
    const way = random()
    if (i === copy.length || way < 0.1) copy.splice(i, 0, way < 0.05 ? pick(ODD) : copy[0])
    else if (way < 0.2) copy.splice(i, 1)
    else copy[i] = mutated(copy[i], random)
    return copy
  }
  const entries = Object.entries(value as object)
  const i = Math.floor(random() * entries.length)
  const way = random()
  if (entries.length === 0 || way < 0.05) entries.push([pick(['extra', 'constructor', 'id', '']), pick(ODD)])
  else if (way < 0.1) entries.splice(i, 1)
  else if (way < 0.13) entries[i] = [`${entries[i]![0]}x`, entries[i]![1]]
  else entries[i] = [entries[i]![0], mutated(entries[i]![1], random)]
  return Object.fromEntries(entries)
}

/** The text with a few characters struck, doubled, swapped for others, or cut off. */
function scribbled(text: string, random: () => number): string {
  let s = text
  for (let n = 1 + Math.floor(random() * 4); n > 0; n--) {
    const at = Math.floor(random() * s.length)
    const way = random()
    if (way < 0.3) s = s.slice(0, at) + s.slice(at + 1)
    else if (way < 0.6)
      s = s.slice(0, at) + '0123456789-.eE"{}[],:\\ \u0000z'[Math.floor(random() * 24)] + s.slice(at + 1)
    else if (way < 0.9) s = s.slice(0, at) + s.slice(at, at + 20) + s.slice(at)
    else s = s.slice(0, at)
  }
  return s
}

test(`${MUTANTS} damaged files are read whole or refused with a place and a reason, seed ${SEED}`, () => {
  const random = seeded(SEED).next
  const sample = sampleDocument()
  const text = writeDocument(sample)
  let read = 0
  let refused = 0
  for (let i = 0; i < MUTANTS; i++) {
    const mutant = i % 2 === 0 ? JSON.stringify(mutated(sample, random)) : scribbled(text, random)
    const result = readDocument(mutant)
    if (result.ok) {
      read++
      const again = writeDocument(result.document)
      expect(readDocument(again), `mutant ${i}`).toEqual({ ok: true, document: JSON.parse(again) })
    } else {
      refused++
      expect(result.errors.length, `mutant ${i}`).toBeGreaterThan(0)
      for (const e of result.errors)
        expect(
          e.found && e.wanted && e.message.length < 700 && e.message,
          `mutant ${i}: ${JSON.stringify(e).slice(0, 900)}`,
        ).toBeTruthy()
    }
  }
  // Both ways must have been tried, or the mutations are too tame or too wild to tell anything.
  expect(read).toBeGreaterThan(50)
  expect(refused).toBeGreaterThan(1000)
})
