import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { BenchError } from '../../src/bender/benchError.ts'
import { checkBendOrder } from '../../src/bender/checkBendOrder.ts'
import { allFindings } from '../../src/checks/allFindings.ts'
import { decide, reopenedBecause } from '../../src/checks/decisions.ts'
import type { LengthUnit } from '../../src/document/quantity.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import {
  type InchFormat,
  inUnit,
  type Length,
  lengthText,
  type Sentence,
} from '../../src/document/sentence.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { RULES, type Rule } from '../../src/findings/rules.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import type { SolvedRun } from '../../src/solve/types.ts'
import { seeded } from '../random.ts'
import { brokenDocument } from './brokenDocuments.ts'

const SEED = 2077
const DOCUMENTS = 200
const SAMPLES = new URL('../../sample-routes/', import.meta.url)

const samples = readdirSync(SAMPLES)
  .filter(name => name.endsWith('.json'))
  .map(name => {
    const read = readDocument(readFileSync(new URL(name, SAMPLES), 'utf8'))
    if (!read.ok) throw new Error(`${name} is damaged`)
    return read.document
  })
const random = seeded(SEED)
const broken = Array.from({ length: DOCUMENTS }, () => brokenDocument(random))
const found = (document: SkidDocument): Finding[] => allFindings(document, solveDocument(document))
/** Of the bench when an end leads that was chosen for a sheet. */
const led = (document: SkidDocument): Finding[] =>
  solveDocument(document).flatMap(run =>
    (['A', 'B'] as const).flatMap(lead => ledFindings(document, run, lead)),
  )
function ledFindings(document: SkidDocument, run: SolvedRun, lead: 'A' | 'B'): readonly Finding[] {
  try {
    return checkBendOrder(document, run, lead).findings
  } catch (error) {
    if (error instanceof BenchError) return []
    throw error
  }
}
const FOUND = [...[...samples, ...broken].map(found), ...broken.map(led)]
const ALL: readonly Finding[] = FOUND.flat()

/** As the screen, the sheet and the report write lengths. */
const WAYS: readonly (readonly [LengthUnit, InchFormat])[] = [
  ['mm', {}],
  ['in', {}],
  ['in', { inchDigits: 3 }],
  ['fraction', {}],
  ['fraction', { fractionOf: 16 }],
  ['fraction', { fractionOf: 64, inchDigits: 3 }],
]
const lengthsOf = (sentence: Sentence) => sentence.filter((p): p is Length => typeof p !== 'string')

/** What a written inch says, mm, and by how much rounding may have changed it. */
function readInches(text: string): { mm: number; within: number } {
  const decimal = /^(-?)(\d+)(?:\.(\d+))?(e-\d+)?$/.exec(text)
  if (decimal) {
    const power = Number((decimal[4] ?? 'e0').slice(1)) - (decimal[3]?.length ?? 0)
    return { mm: Number(text) * 25.4, within: 0.5 * 10 ** power * 25.4 }
  }
  const mixed = /^(-?)(?:(\d+) )?(\d+)\/(\d+)$/.exec(text)
  if (!mixed) throw new Error(`not a length in inches: ${text}`)
  const [over, under] = [Number(mixed[3]), Number(mixed[4])]
  return { mm: (mixed[1] ? -1 : 1) * (Number(mixed[2] ?? 0) + over / under) * 25.4, within: 0 }
}

describe(`what is found in the samples and in ${DOCUMENTS} broken documents, seed ${SEED}`, () => {
  test('has every rule in it that speaks of lengths', () => {
    const seen = new Set(ALL.map(f => f.rule))
    const others: readonly Rule[] = ['tooFewPoints', 'modelLeftOut', 'modelPartGone']
    expect((Object.keys(RULES) as Rule[]).filter(rule => !seen.has(rule) && !others.includes(rule))).toEqual(
      [],
    )
  })

  test('says in mm what its message says, and comes through a worker so', () => {
    for (const { sentence, message } of structuredClone(ALL)) expect(inUnit(sentence, 'mm')).toBe(message)
  })

  test('leaves no millimetres in a sentence in inches, and has no length in it but exact ones', () => {
    for (const { sentence, message } of ALL) {
      const withUnit = lengthsOf(sentence).filter(l => !l.bare)
      expect(message.match(/ mm\b/g)?.length ?? 0, message).toBe(withUnit.length)
      for (const [unit, format] of WAYS.filter(([unit]) => unit !== 'mm'))
        expect(inUnit(sentence, unit, format), message).not.toMatch(/ mm\b/)
    }
  })

  test('gives in inches the exact length within the rounding of the last digit shown', () => {
    for (const { sentence, message } of ALL)
      for (const length of lengthsOf(sentence).filter(l => Number.isFinite(l.mm)))
        for (const [unit, format] of WAYS.filter(([unit]) => unit !== 'mm')) {
          const text = lengthText({ ...length, bare: true }, unit, format)
          const [first, decimal] = text.split(' (')
          for (const part of decimal === undefined ? [first!] : [first!, decimal.replace(')', '')]) {
            const { mm, within } = readInches(part)
            const whole = unit === 'fraction' && !part.includes('.') ? 12.7 / (format.fractionOf ?? 32) : 0
            expect(Math.abs(mm - length.mm), `${message}: ${text}`).toBeLessThanOrEqual(
              Math.max(within, whole) * (1 + 1e-9) + 1e-9,
            )
          }
        }
  })

  test('never lets what is measured read like its limit, nor anything like nothing', () => {
    let pairs = 0
    for (const { sentence, measured, limit, message } of ALL)
      for (const [unit, format] of WAYS) {
        const lengths = lengthsOf(sentence)
        const text = (l: Length) => lengthText(l, unit, format)
        for (const l of lengths)
          if (Math.abs(l.mm) > 1e-6 && l.digits !== 1) expect(text(l), message).not.toMatch(/^-?0(\.0*)? /)
        const is = lengths.find(l => l.mm === measured)
        const wants = lengths.find(l => l.mm === limit)
        if (!is || !wants || Math.abs(is.mm - wants.mm) <= 1e-6) continue
        pairs++
        expect(text(is), `${unit}: ${message}`).not.toBe(text(wants))
      }
    expect(pairs).toBeGreaterThan(1000)
  })
})

test('why an acceptance holds no longer is told in the unit shown, too', () => {
  const said = new Set<string>()
  for (const findings of FOUND)
    for (const by of [0.2, 7]) {
      const acceptances = findings.map(f => ({
        finding: f.id,
        category: 'agreed' as const,
        reason: 'as built',
        by: 'A. Reviewer',
        on: '2026-01-01',
        measured: f.measured === null ? null : f.measured + (f.measured > (f.limit ?? 0) ? -by : by),
        limit: f.limit === null ? null : f.limit - by,
      }))
      for (const item of decide(findings, acceptances).decided) {
        expect(inUnit(reopenedBecause(item), 'mm')).toBe(item.why)
        if (item.finding.unit !== 'mm' || item.why === '') continue
        for (const unit of ['in', 'fraction'] as const) {
          const text = inUnit(reopenedBecause(item), unit)
          expect(text).not.toMatch(/ mm\b/)
          said.add(text)
        }
      }
    }
  expect([...said].some(text => text.startsWith('it got worse by 9/32 in'))).toBe(true)
  expect([...said].some(text => text.startsWith('it got worse by 0.0079 in'))).toBe(true)
})

test('nothing on screen or paper shows the message in mm of a finding or of a route', () => {
  /** What is data or the command line, and so in mm. */
  const inMm = ['reviewReport', 'solveReport', 'benchText', 'cutList', 'solidTubes', 'benchLayout']
  const src = new URL('../../src/', import.meta.url)
  const shown = ['view', 'outputs', 'store'].flatMap(folder =>
    readdirSync(new URL(folder, src), { recursive: true, encoding: 'utf8' }).map(name => `${folder}/${name}`),
  )
  const wrong = shown.filter(
    name =>
      /\.tsx?$/.test(name) &&
      !inMm.some(file => name === `outputs/${file}.ts`) &&
      /\b([fF]inding|problem|worse)\??\.message\b/.test(readFileSync(new URL(name, src), 'utf8')),
  )
  expect(wrong).toEqual([])
})
