import { expect, test } from 'vitest'
import sample from '../../sample-routes/first-route.json'
import { exampleFigures, exampleWords, springbackOrigin } from '../../src/document/exampleFigures.ts'
import { KNOWN_BENDERS } from '../../src/document/knownBenders.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { Bender, SkidDocument, Springback } from '../../src/document/types.ts'
import { sheetPages } from '../../src/outputs/fabricationSheet.ts'
import { stripPages } from '../../src/outputs/markingStrip.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { texts } from '../outputs/paperTexts.ts'

const read = readDocument(JSON.stringify(sample))
if (!read.ok) throw new Error('the sample cannot be read')
const SAMPLE: SkidDocument = { ...read.document, invented: false }
const bender = SAMPLE.benders[0]!
const withBender = (change: Partial<Bender>): SkidDocument => ({
  ...SAMPLE,
  benders: [{ ...bender, ...change }],
})
const springback = (change: Partial<Springback>) => ({
  springback: bender.springback.map(s => ({ ...s, ...change })),
})
const sheet = (document: SkidDocument) =>
  texts(sheetPages(document, solveDocument(document)[0]!, { date: '2026-03-04', findings: [] })).join(' ')
const own = (document: SkidDocument) => exampleFigures(document, document.runs[0]!)

test('figures that came with the program say so on sheet and strip though the document says it is not invented', () => {
  const solved = solveDocument(SAMPLE)[0]!
  const strip = texts(stripPages(SAMPLE, solved, { date: '2026-03-04', findings: [] })).join(' ')
  for (const said of [sheet(SAMPLE), strip]) {
    expect(said).toContain('Example figures that came with Dogleg, not measured on your bender: springback,')
    expect(said).toContain('not your fitting maker’s')
    expect(said).not.toContain('from trial bends of')
  }
})

test('trial bends of one’s own take the place of the example’s springback, and the other figures stay named', () => {
  const document = withBender(springback({ offset: 1.1, perDegree: 0.031, range: [40, 95] }))
  expect(sheet(document)).toContain('from trial bends of 40° to 95°')
  expect(own(document).bender).not.toContain('springback')
  expect(own(document).bender).toContain('reference line')
})

test('a figure typed over the example’s does not make its range of trials one’s own', () => {
  const document = withBender(springback({ offset: 2.2 }))
  const record = document.benders[0]!.springback[0]!
  expect(springbackOrigin(document.benders[0]!, record)).toBe('typed')
  expect(sheet(document)).not.toContain('from trial bends of')
  expect(springbackOrigin(bender, { ...record, range: null })).toBe('assumed')
})

test('every bender of the table is an example in all its figures, under another name and id, too', () => {
  for (const { bender: known } of KNOWN_BENDERS)
    for (const tooling of known.tooling) {
      const renamed: Bender = { ...known, id: 'mine', name: 'Mine', catalogueId: null }
      const document: SkidDocument = {
        ...SAMPLE,
        benders: [renamed],
        runs: SAMPLE.runs.map(r => ({
          ...r,
          bender: 'mine',
          clr: tooling.clr,
          tube: { ...r.tube, od: tooling.od },
        })),
      }
      expect(own(document).bender).toEqual([
        'springback',
        'clamp grip',
        'follower length',
        'reference line',
        'largest angle',
        'housing and arm',
      ])
    }
})

test('a figure of the tooling that was measured is no example any more, the others are', () => {
  const document = withBender({
    tooling: bender.tooling.map(t => ({ ...t, referenceOffset: 3.4, clampGrip: 33 })),
  })
  expect(own(document).bender).toEqual(['springback', 'follower length', 'largest angle', 'housing and arm'])
})

test('nothing is said of a bender and ports whose figures are all one’s own', () => {
  const document: SkidDocument = {
    ...withBender({
      ...springback({ offset: 0.9, perDegree: 0.01, range: [30, 90] }),
      tooling: bender.tooling.map(t => ({
        ...t,
        clampGrip: 31,
        followerLength: 44,
        referenceOffset: 2.2,
        maxAngle: 175,
      })),
      benchTop: -133,
    }),
    fittings: SAMPLE.fittings.map(f => ({ ...f, catalogueId: null, insertionDepth: 17.3 })),
  }
  expect(exampleWords(own(document))).toEqual([])
  expect(sheet(document)).not.toContain('came with Dogleg')
})
