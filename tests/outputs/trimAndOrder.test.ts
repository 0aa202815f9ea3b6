import { expect, test } from 'vitest'
import { benchReport } from '../../src/bender/benchCommand.ts'
import { benchText } from '../../src/outputs/benchText.ts'
import { sheetPages } from '../../src/outputs/fabricationSheet.ts'
import { stripPages } from '../../src/outputs/markingStrip.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { texts } from './paperTexts.ts'
import { SAMPLE } from './sampleDocument.ts'

const DATE = { date: '2026-03-04' }
const MIXED: readonly OrderedBend[] = [
  { bend: 3, lead: 'B' },
  { bend: 0, lead: 'A' },
  { bend: 2, lead: 'B' },
  { bend: 1, lead: 'A' },
]
const trimmed = { ...SAMPLE, runs: SAMPLE.runs.map((r, i) => (i === 0 ? { ...r, trimAllowance: 25 } : r)) }
const cut = solveDocument(trimmed)[0]!
const sheetOf = (order?: 'A' | 'B' | readonly OrderedBend[]) =>
  texts(sheetPages(trimmed, cut, { ...DATE, findings: null, order })).join(' ')
const stripOf = (order?: 'A' | 'B' | readonly OrderedBend[]) =>
  texts(stripPages(trimmed, cut, { ...DATE, order })).join(' ')

test('sheet, strip and bench say that the trim comes off after the last bend, and at which end for the order', () => {
  for (const [order, end] of [
    ['A', 'B'],
    ['B', 'A'],
    [MIXED, 'A'],
  ] as const) {
    expect(sheetOf(order)).toContain(`After the last bend, cut 25.0 mm off end ${end}.`)
    expect(stripOf(order)).toContain(`TRIM 25.0 OFF END ${end} AFTER THE LAST BEND`)
  }
  for (const lead of ['A', 'B'] as const) {
    const report = benchReport(trimmed, solveDocument(trimmed), { run: 'T-101', lead })
    const end = lead === 'A' ? 'B' : 'A'
    expect(report.runs[0]).toMatchObject({ trim: 25, trimEnd: end })
    const state = { text: '', detail: '', good: true, held: false }
    expect(benchText(report, () => ({ release: state, decided: [], cautions: [] }))).toContain(
      `After the last bend, cut 25 mm off end ${end}.`,
    )
  }
  const none = benchReport(SAMPLE, solveDocument(SAMPLE), { run: 'T-101' })
  expect(none.runs[0]).toMatchObject({ trim: 0, trimEnd: null })
})

test('a mixed or turned order stands on sheet and strip, and every mark of the strip has its step', () => {
  for (const said of [sheetOf(MIXED), stripOf(MIXED)]) expect(said).toContain('Bending order: 4B 1A 3B 2A')
  for (const said of [sheetOf('B'), stripOf('B')]) expect(said).toContain('Bending order: B 4 3 2 1')
  for (const said of [sheetOf('A'), stripOf('A')]) expect(said).not.toContain('Bending order')
  MIXED.forEach(({ bend }, i) => {
    expect(stripOf(MIXED)).toContain(`STEP ${i + 1}   BEND ${bend + 1}   `)
  })
})

test('a tooling not measured is named so on sheet and strip, with what is missing, and no dial figure is claimed', () => {
  const bender = SAMPLE.benders[0]!
  const tooling = [{ ...bender.tooling[0]!, notMeasured: ['clampGrip', 'maxAngle'] as const }]
  const document = { ...SAMPLE, benders: [{ ...bender, tooling }] }
  const solved = solveDocument(document)[0]!
  const said = texts(sheetPages(document, solved, { ...DATE, findings: null })).join(' ')
  expect(said).toContain('t12: clamp grip and stop not measured')
  expect(said).not.toContain('none for this OD and CLR')
  expect(said).not.toContain('dial figures include')
  expect(said).toContain('No dial readings on this sheet')
  expect(() => stripPages(document, solved, DATE)).toThrow(/clamp grip and stop of .* are not measured/)
})
