import { expect, test } from 'vitest'
import type { SkidDocument } from '../../src/document/types.ts'
import { sheetPages } from '../../src/outputs/fabricationSheet.ts'
import { stripPages } from '../../src/outputs/markingStrip.ts'
import type { PaperPage } from '../../src/outputs/paper.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { pointAt } from '../../src/solve/centreLine.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'
import { randomDocument } from './randomDocument.ts'
import { SAMPLE, SOLVED } from './sampleDocument.ts'

const OPTIONS = { date: '2026-03-04T05:06:07Z', findings: [] }
const texts = (pages: readonly PaperPage[]) =>
  pages.flatMap(p => p.items.flatMap(i => (i.kind === 'text' ? [i.text] : [])))

/** The document with supports of its first run at these distances from end A. */
function held(document: SkidDocument, at: readonly number[], span: number | null = null): SkidDocument {
  const solved = solveDocument(document)[0]!
  return {
    ...document,
    supportSpan: span,
    supports: at.map((along, i) => ({
      id: `c${i}`,
      name: `Clamp ${'PQRSTUVW'[i % 8]}`,
      type: 'clamp, invented',
      run: solved.runId,
      at: pointAt(solved.route!, along).point,
    })),
  }
}

test('supports stand on the sheet from end A with their place along the tube, whatever their order in the file', () => {
  const said = texts(sheetPages(held(SAMPLE, [700, 123.4, 400], 450), SOLVED[0]!, OPTIONS))
  for (const label of ['S1', 'S2', 'S3']) expect(said.filter(t => t === label).length).toBeGreaterThan(2)
  const row = said.indexOf('Clamp Q')
  expect(said.slice(row - 1, row + 4)).toEqual(['S1', 'Clamp Q', 'clamp, invented', '123.4', '123.4'])
  expect(said[said.indexOf('Clamp R') + 2]).toBe('400.0')
  expect(said[said.indexOf('Clamp R') + 3]).toBe('276.6')
  expect(said.join(' ')).toMatch(/450\.0 along the tube, from support to support or end/)
})

test('without a figure the sheet says that none is set; without supports and figure it says nothing', () => {
  expect(texts(sheetPages(held(SAMPLE, [100]), SOLVED[0]!, OPTIONS)).join(' ')).toMatch(
    /No maximum span between supports is set/,
  )
  expect(texts(sheetPages(SAMPLE, SOLVED[0]!, OPTIONS))).not.toContain('Supports')
  expect(texts(sheetPages({ ...SAMPLE, supportSpan: 500 }, SOLVED[0]!, OPTIONS)).join(' ')).toMatch(
    /None\. Maximum span: 500\.0/,
  )
})

test('the marking strip is of the stock on the bench: it has no supports', () => {
  expect(stripPages(held(SAMPLE, [100, 300]), SOLVED[0]!, OPTIONS)).toEqual(
    stripPages(SAMPLE, SOLVED[0]!, OPTIONS),
  )
})

const SEED = 83
test(`no text lies on another with up to ten supports on a run, papers and units, seed ${SEED}`, () => {
  const random = seeded(SEED)
  for (let i = 0; i < 18; i++) {
    const bare = randomDocument(random, random.whole(0, 8))
    const long = solveDocument(bare)[0]!.route!.developedLength
    const document = held(
      bare,
      Array.from({ length: random.whole(1, 10) }, () => random.next() * long),
    )
    const paper = (['A4', 'A3', 'Letter'] as const)[i % 3]!
    const unit = (['mm', 'in', 'fraction'] as const)[random.whole(0, 2)]!
    for (const page of sheetPages(document, solveDocument(document)[0]!, { ...OPTIONS, paper, unit }))
      expect(overlappingTexts(page.items), `${i}, ${paper}, ${unit}`).toEqual([])
  }
})
