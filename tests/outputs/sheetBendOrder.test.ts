import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { checkBendOrder } from '../../src/bender/checkBendOrder.ts'
import { housingCheck } from '../../src/bender/housingCheck.ts'
import { orderFrom } from '../../src/bender/layOut.ts'
import { allFindings } from '../../src/checks/allFindings.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import { sheetPages } from '../../src/outputs/fabricationSheet.ts'
import { stripPages } from '../../src/outputs/markingStrip.ts'
import { sheetBendOrder } from '../../src/outputs/sheetBendOrder.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { texts } from './paperTexts.ts'

const DATE = '2026-03-04T05:06:07Z'

function given(sample: string, tag: string) {
  const read = readDocument(readFileSync(`sample-routes/${sample}.json`, 'utf8'))
  if (!read.ok) throw new Error(read.errors[0]!.message)
  const { document } = read
  const run = document.runs.find(r => r.tag === tag)!
  const solved = solveRun(document, run)
  return { document, run, solved, findings: housingCheck(document, solved) }
}
const words = (pages: Parameters<typeof texts>[0]) => texts(pages).join(' ')

describe('the order of bends that a sheet goes by', () => {
  // By the check's own test this run hits the bench top with end A leading, and clears with end B.
  const { document, run, solved, findings } = given('first-route', 'AE-101')
  const sheet = (order?: 'A' | 'B') =>
    words(sheetPages(document, solved, { date: DATE, findings, ...(order ? { order } : {}) }))

  test('is the one that clears, and the sheet says to keep to it', () => {
    expect(sheetBendOrder(document, solved, findings)).toEqual({ order: orderFrom('B', 4), findings })
    const said = sheet()
    expect(said).toContain('40.1 from end B')
    expect(said).toMatch(/Keep to the order of this sheet: the run hits the bench top/)
    expect(said).toContain('mark end B')
    expect(said).toContain('NO OPEN FINDINGS')
  })

  test('asked for against the check, is an open finding that stands among the cautions of the first page', () => {
    const said = sheet('A')
    expect(said).toContain('288.0 from end A')
    expect(said).toContain('NOT RELEASED')
    const [first] = sheetPages(document, solved, { date: DATE, findings, order: 'A' })
    expect(words([first!])).toMatch(/In this order: hits the bench top of its bender when end A leads/)
  })

  test('is end A where nothing was checked, and the sheet says that', () => {
    expect(sheetBendOrder(document, solved, null)).toEqual({ order: orderFrom('A', 4), findings: null })
    expect(words(sheetPages(document, solved, { date: DATE, findings: null }))).toContain(
      'the checks were not run',
    )
  })

  test('is the same on the marking strip', () => {
    expect(words(stripPages(document, solved, { date: DATE, findings }))).toContain('END B')
    expect(words(stripPages(document, solved, { date: DATE, findings, order: 'A' }))).toContain('END A')
  })

  test('judged by itself, is neither in doubt nor open', () => {
    for (const [lead, wanted] of [
      ['A', /NOT RELEASED/],
      ['B', /NO OPEN FINDINGS/],
      ['best', /NO OPEN FINDINGS/],
    ] as const) {
      const order = checkBendOrder(document, solved, lead)
      expect(words(sheetPages(document, solved, { date: DATE, findings, order }))).toMatch(wanted)
    }
  })

  test('of mixed leading ends comes from the check as well', () => {
    const mixed = given('algae-manifold', 'AF-102')
    const { order } = sheetBendOrder(mixed.document, mixed.solved, mixed.findings)
    expect(checkBendOrder(mixed.document, mixed.solved, 'A').findings.length).toBeGreaterThan(0)
    expect(checkBendOrder(mixed.document, mixed.solved, 'best')).toEqual({ order, findings: [] })
  })

  test('that the checks did not look at is not checked, never without findings', () => {
    const clear = given('inch-skid', 'WS-301')
    expect(clear.findings).toEqual([])
    const said = words(sheetPages(clear.document, clear.solved, { date: DATE, findings: [], order: 'B' }))
    expect(said).toContain('NOT FULLY CHECKED')
    expect(said).toMatch(
      /Clearance from the bender is not checked: another bending order was checked, not this one/,
    )
  })

  test('matters to no run without a bender: there are no marks to print', () => {
    const none = { ...document, runs: [{ ...run, bender: null }] }
    const unset = solveRun(none, none.runs[0]!)
    expect(sheetBendOrder(none, unset, [], 'B').findings).toEqual([])
  })

  test('is told of this run’s check only', () => {
    const all = allFindings(document, [solved])
    const other = all.map(f => (f.rule === 'housingOrder' ? { ...f, where: { ...f.where, run: 'x' } } : f))
    expect(sheetBendOrder(document, solved, other).order).toEqual(orderFrom('A', 4))
  })
})

test('the usual cautions are on the first page of every sheet, whatever was found', () => {
  for (const [sample, tag] of [
    ['first-route', 'AE-101'],
    ['inch-skid', 'WS-301'],
    ['two-bends', null],
  ] as const) {
    const read = readDocument(readFileSync(`sample-routes/${sample}.json`, 'utf8'))
    if (!read.ok) throw new Error(read.errors[0]!.message)
    const run = read.document.runs.find(r => tag === null || r.tag === tag)!
    for (const paper of ['A4', 'A3', 'Letter'] as const) {
      const [first] = sheetPages(read.document, solveRun(read.document, run), {
        date: DATE,
        findings: null,
        paper,
      })
      for (const caution of [/pinch points/, /stores energy/, /under pressure/, /Local codes/])
        expect(words([first!]), `${sample} on ${paper}`).toMatch(caution)
    }
  }
})
