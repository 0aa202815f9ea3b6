import { expect, test } from 'vitest'
import type { SkidDocument } from '../../src/document/types.ts'
import { billOfMaterial, billOfMaterialCsv } from '../../src/outputs/billOfMaterial.ts'
import { type CutList, cutList, TWENTY_FEET } from '../../src/outputs/cutList.ts'
import { cutListPages } from '../../src/outputs/cutListSheet.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { cutListCsv, cutListText } from '../../src/outputs/writeCutList.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { SAMPLE, SOLVED } from './sampleDocument.ts'

/** Pieces with a kerf between them, the trim, what is left and the last kerf are the bar, to a nanometre. */
function expectBars(list: CutList) {
  for (const g of list.groups) {
    let net = 0
    for (const b of g.bars) {
      let at = 0
      for (const p of b.pieces) {
        expect(p.at).toBeCloseTo(at, 9)
        at += p.length + list.kerf
        net += p.length
      }
      const rest = b.length - list.endTrim - (at - list.kerf)
      expect(rest).toBeGreaterThanOrEqual(-1e-9)
      expect(b.left).toBeCloseTo(Math.max(0, rest - list.kerf), 9)
      expect(b.leftIs).toBe(b.left >= list.leastRemnant && b.left > 0 ? 'remnant' : 'scrap')
    }
    const all = g.bars.reduce((s, b) => s + b.length, 0)
    expect(g.net).toBeCloseTo(net, 6)
    expect(all).toBeCloseTo(g.net + g.kerf + g.trim + g.scrap + g.remnants, 6)
  }
}

test('every run is cut as often as its quantity, grouped by tube, and the bars add up', () => {
  const list = cutList(SAMPLE, SOLVED)
  expectBars(list)
  const count = new Map<string, number>()
  for (const p of list.groups.flatMap(g => g.bars.flatMap(b => b.pieces)))
    count.set(p.tag, (count.get(p.tag) ?? 0) + 1)
  expect([...count]).toEqual(
    expect.arrayContaining([
      ['T-101', 3],
      ['T-102 "½ in"', 2],
      ['T-103', 4],
    ]),
  )
  expect(list.groups.map(g => [g.od, g.pieces, g.proven])).toEqual([
    [12, 7, true],
    [12.7, 2, true],
  ])
  const wanted = SOLVED.find(s => s.tag === 'T-101')!.cutLength!
  expect(list.groups[0]!.bars[0]!.pieces.find(p => p.tag === 'T-101')!.length).toBeCloseTo(wanted, 9)
})

test('remnants are used before new stock, and no more of them than there are', () => {
  const remnant = { name: 'rack 4', od: 12, wall: 1.5, material: '316', length: 1000, count: 2 }
  // Four pieces of 480: two remnants of 1000 take them all, and nothing is bought; one takes two of them.
  const document: SkidDocument = { ...SAMPLE, runs: [SAMPLE.runs[2]!] }
  const solved = solveDocument(document)
  const both = cutList(document, solved, { remnants: [remnant] })
  expectBars(both)
  expect(both.groups[0]!.bars.map(b => [b.stock, b.pieces.length])).toEqual([
    ['rack 4', 2],
    ['rack 4', 2],
  ])
  expect([both.groups[0]!.bought, both.groups[0]!.proven]).toEqual([0, true])
  const one = cutList(document, solved, {
    remnants: [{ ...remnant, count: 1 }],
    stock: [1500, TWENTY_FEET].map(length => ({ length, count: null })),
  })
  expectBars(one)
  expect(one.groups[0]!.bars.filter(b => b.remnant).length).toBe(1)
  expect(one.groups[0]!.bought).toBe(1500)
  const other = cutList(document, solved, {
    remnants: [{ ...remnant, wall: 1 }],
    stock: [1500, TWENTY_FEET].map(length => ({ length, count: null })),
  })
  expect(other.groups[0]!.bars.every(b => !b.remnant)).toBe(true)
})

test('pieces that fill the bar to the last millimetre need no cut at its end', () => {
  const document: SkidDocument = { ...SAMPLE, runs: [{ ...SAMPLE.runs[2]!, quantity: 2 }] }
  const list = cutList(document, solveDocument(document), {
    stock: [{ length: 480 * 2 + 3 + 5, count: null }],
    kerf: 3,
    endTrim: 5,
  })
  expectBars(list)
  expect(list.groups[0]!.bars.length).toBe(1)
  expect(list.groups[0]!.bars[0]!.left).toBe(0)
})

test('a run without a route is left out by name with its reason', () => {
  const document: SkidDocument = {
    ...SAMPLE,
    runs: [
      ...SAMPLE.runs,
      { ...SAMPLE.runs[0]!, id: 'bad', tag: 'BAD', endB: { kind: 'port', fitting: 'none' } },
    ],
  }
  const list = cutList(document, solveDocument(document))
  expect(list.leftOut.map(l => l.tag)).toEqual(['BAD'])
  expect(cutListText(list)).toMatch(/NOT IN THE LIST\n {2}BAD: .*"none"/)
  expect(cutListCsv(list)).toMatch(/BAD/)
})

test('a piece longer than the stock, a negative kerf and an empty stock list are refused by name', () => {
  expect(() => cutList(SAMPLE, SOLVED, { stock: [{ length: 600, count: null }] })).toThrow(
    /run T-101: found a cut length of 1\d+\.\d mm, wanted at most 595 mm/,
  )
  expect(() => cutList(SAMPLE, SOLVED, { kerf: -1 })).toThrow(/cut list: kerf: found -1/)
  expect(() => cutList(SAMPLE, SOLVED, { stock: [] })).toThrow(/stock lengths: found none/)
})

test('the CSV keeps full precision and no tag becomes a formula', () => {
  const document: SkidDocument = { ...SAMPLE, runs: [{ ...SAMPLE.runs[0]!, tag: '=1+1' }] }
  const csv = cutListCsv(cutList(document, solveDocument(document)))
  expect(csv).toContain(",'=1+1,")
  expect(csv).toContain(String(solveDocument(document)[0]!.cutLength))
})

test('the bill of material has the tube with its waste and every port that a run ends in', () => {
  const lines = billOfMaterial(SAMPLE, SOLVED, cutList(SAMPLE, SOLVED))
  expect(lines[0]).toMatchObject({ quantity: 6, unit: 'm' })
  expect(lines.filter(l => l.unit === 'each').map(l => l.quantity)).toEqual([3, 3])
  expect(billOfMaterialCsv(lines).split('\r\n').length).toBe(lines.length + 2)
})

test('on paper every piece of every bar is written with its length, and no text lies on another', () => {
  const list = cutList(SAMPLE, SOLVED)
  for (const paper of ['A4', 'A3', 'Letter'] as const) {
    const pages = cutListPages(SAMPLE, SOLVED, list, { date: '2026-03-04', paper })
    for (const page of pages) expect(overlappingTexts(page.items)).toEqual([])
    const said = pages
      .flatMap(p => p.items.flatMap(i => (i.kind === 'text' ? [i.text] : [])))
      .join(' ')
      .replace(/ +/g, ' ')
    for (const b of list.groups.flatMap(g => g.bars)) {
      expect(said).toContain(`${b.left.toFixed(1)} left, ${b.leftIs === 'remnant' ? 'keep' : 'scrap'}`)
      for (const p of b.pieces) expect(said).toContain(`${p.tag} ${p.length.toFixed(1)}`)
    }
    expect(said).toContain('no cut list opens less new stock')
  }
})
