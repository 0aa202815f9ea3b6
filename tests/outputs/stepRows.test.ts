import { expect, test } from 'vitest'
import { type LengthUnit, parseLength } from '../../src/document/quantity.ts'
import { benchRun, firstLead } from '../../src/outputs/benchLayout.ts'
import { sheetPages } from '../../src/outputs/fabricationSheet.ts'
import { paperLengths } from '../../src/outputs/paperLengths.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { chained, stepsOf } from '../../src/outputs/stepRows.ts'
import { handling } from '../../src/outputs/stepWords.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { type Random, seeded } from '../random.ts'
import { texts } from './paperTexts.ts'
import { randomDocument } from './randomDocument.ts'

/** Every bend once, in any order, from either end. */
function randomOrder(random: Random, bends: number): OrderedBend[] {
  const left = Array.from({ length: bends }, (_, bend) => bend)
  return Array.from({ length: bends }, () => ({
    bend: left.splice(random.whole(0, left.length - 1), 1)[0]!,
    lead: random.next() < 0.5 ? ('A' as const) : ('B' as const),
  }))
}
const UNITS: readonly LengthUnit[] = ['mm', 'in', 'fraction']
const read = (text: string, unit: LengthUnit) => {
  const length = parseLength(text, unit)
  if (!length.ok) throw new Error(`${text}: ${length.reason}`)
  return length.mm
}

const SEED = 512
test(`distances from mark to mark add up to the marks as printed, in mm, inches and fractions, any order: 120 random runs, seed ${SEED}`, () => {
  const random = seeded(SEED)
  for (let i = 0; i < 120; i++) {
    const document = randomDocument(random, random.whole(2, 9))
    const solved = solveDocument(document)[0]!
    const n = solved.route!.bends.length
    const plain = random.next() < 0.3
    const bench = benchRun(document, solved, plain ? 'A' : randomOrder(random, n))
    const layout = bench.layout!
    const first = firstLead(layout)
    const unit = UNITS[i % 3]!
    const fractionOf = random.next() < 0.5 ? 16 : 32
    const lengths = paperLengths(unit, fractionOf)
    // On the stock with the printed cut length, from the first end's side, with nothing but what is printed.
    const cut = read(lengths.length(layout.cutLength), unit)
    const placeOf = (k: number) => {
      const mark = read(lengths.length(layout.steps[k]!.mark), unit)
      return layout.steps[k]!.lead === first ? mark : cut - mark
    }
    let chain = placeOf(0)
    for (let k = 1; k < n; k++) {
      const link = chained(lengths, layout, k)!
      chain += (link.way.startsWith('back') ? -1 : 1) * read(link.distance, unit)
      expect(chain).toBeCloseTo(placeOf(k), 6)
      expect(link.distance).not.toContain('-')
      if (plain) expect(link.way).toBe('')
    }
    const most = unit === 'mm' ? 0.05 : unit === 'in' ? 0.0127 : 25.4 / fractionOf / 2
    expect(lengths.worst().length).toBeLessThanOrEqual(most + 1e-9)
    // A mark from the other end brings in the rounding of the cut length.
    expect(lengths.worst().between).toBeLessThanOrEqual(4 * most + 1e-9)
  }
})

const NINE = 77
test(`a chain of nine marks in fractions ends on the printed mark, and the sheet says the largest error of a distance, seed ${NINE}`, () => {
  const document = randomDocument(seeded(NINE), 9)
  const solved = solveDocument(document)[0]!
  const lengths = paperLengths('fraction')
  const layout = benchRun(document, solved).layout!
  let chain = read(lengths.length(layout.steps[0]!.mark), 'fraction')
  for (let k = 1; k < 9; k++) chain += read(chained(lengths, layout, k)!.distance, 'fraction')
  expect(chain).toBeCloseTo(read(lengths.length(layout.steps[8]!.mark), 'fraction'), 9)
  const said = texts(
    sheetPages(document, solved, { date: '2026-03-04', findings: [], unit: 'fraction' }),
  ).join(' ')
  const worst =
    /differences of the printed marks and add up to them; the largest error of one is (\d+\.\d+) mm/.exec(
      said,
    )
  expect(Number(worst?.[1])).toBeCloseTo(lengths.worst().between, 2)
})

const MIXED = 4021
test(`every step of any order says from which end or bend its mark is measured, what is done with the tube, and shows the turn: 25 random runs, seed ${MIXED}`, () => {
  const random = seeded(MIXED)
  for (let i = 0; i < 25; i++) {
    const made = randomDocument(random, random.whole(2, 6))
    const benders = made.benders.map(b => ({
      ...b,
      hand: random.next() < 0.5 ? ('left' as const) : ('right' as const),
      kind: random.next() < 0.5 ? ('rotaryDraw' as const) : ('compression' as const),
    }))
    const document = { ...made, benders }
    const solved = solveDocument(document)[0]!
    const order = randomOrder(random, solved.route!.bends.length)
    const bench = benchRun(document, solved, order)
    const pages = sheetPages(document, solved, { date: '2026-03-04', findings: [], order })
    for (const page of pages) expect(overlappingTexts(page.items)).toEqual([])
    const said = texts(pages).join(' ').replace(/\s+/g, ' ')
    for (const step of stepsOf(bench, solved)) {
      expect(said).toContain(`${step.step.mark.toFixed(1)} from end ${order[step.index]!.lead}`)
      if (step.onPart)
        expect(said).toContain(
          `${step.onPart.distance.toFixed(1)} from ${step.onPart.from.replace('back', 'the back')}`,
        )
      const done = handling(step).join(' ')
      expect(said).toContain(done)
      const swung = step.index > 0 && order[step.index]!.lead !== order[step.index - 1]!.lead
      expect(/turn it end for end/.test(done)).toBe(swung)
      if (step.index > 0 && bench.layout!.kind === 'compression') expect(done).toMatch(/^Take the tube out/)
    }
    // A picture with the die in it for every step that has tube bent before.
    const pictures = texts(pages).filter(t => t === 'die').length
    expect(pictures).toBe(stepsOf(bench, solved).filter(s => s.pointers.length > 0).length)
    expect(said).not.toMatch(/-\d+(\.\d+)? from the previous mark/)
  }
})
