import { expect, test } from 'vitest'
import { say, told } from '../../src/document/sentence.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { billOfMaterial, billOfMaterialCsv } from '../../src/outputs/billOfMaterial.ts'
import { type CutList, cutList, TWENTY_FEET } from '../../src/outputs/cutList.ts'
import { cutListPages } from '../../src/outputs/cutListSheet.ts'
import { cutListCommand } from '../../src/outputs/outputsCommand.ts'
import type { PathStep } from '../../src/outputs/paper.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { cutListCsv, cutListText } from '../../src/outputs/writeCutList.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { texts } from './paperTexts.ts'
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
  expect(cutListText(list, [])).toMatch(/NOT IN THE LIST\n {2}BAD: .*"none"/)
  expect(cutListCsv(list, [])).toMatch(/BAD/)
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
  const csv = cutListCsv(cutList(document, solveDocument(document)), [])
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
    const pages = cutListPages(SAMPLE, SOLVED, list, { date: '2026-03-04', paper, findings: [] })
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

test('on paper every bar and piece has a box to tick, every piece the stop from the bar’s end, every leftover a label', () => {
  const list = cutList(SAMPLE, SOLVED, { endTrim: 7, kerf: 3 })
  const pages = cutListPages(SAMPLE, SOLVED, list, { date: '2026-03-04', findings: [] })
  const said = texts(pages).join(' ')
  const bars = list.groups.flatMap(g => g.bars)
  for (const bar of bars) {
    // What the saw has gone through before a piece: the trim, and each piece before with its kerf.
    let gone = 7
    for (const p of bar.pieces) {
      expect(said).toContain(`${p.length.toFixed(1)}   stop ${(gone + p.length).toFixed(1)}`)
      gone += p.length + 3
    }
  }
  const boxes = pages
    .flatMap(p => p.items)
    .filter(i => i.kind === 'path' && i.steps.length === 5 && i.stroke !== undefined && !i.fill)
    .filter(i => i.kind === 'path' && widthOf(i.steps) < 3)
  const kept = bars.filter(b => b.leftIs === 'remnant' && b.left > 0)
  expect(kept.length).toBeGreaterThan(0)
  expect(boxes.length).toBe(bars.length + bars.flatMap(b => b.pieces).length + kept.length)
  for (const b of kept) expect(texts(pages)).toContain(`${b.left.toFixed(1)} mm`)
})

test('the trim is drawn at the bar’s end, to scale', () => {
  const list = cutList(SAMPLE, SOLVED, { endTrim: 60 })
  const without = cutList(SAMPLE, SOLVED, { endTrim: 0 })
  const slanted = (of: typeof list) =>
    cutListPages(SAMPLE, SOLVED, of, { date: '2026-03-04', findings: [] }).flatMap(p =>
      p.items.flatMap(i => {
        if (i.kind !== 'path' || i.steps.length !== 2) return []
        const [[, x1, y1], [, x2, y2]] = i.steps as [['M', number, number], ['L', number, number]]
        return x1 !== x2 && y1 !== y2 ? [[x1, x2] as const] : []
      }),
    )
  expect(slanted(without)).toEqual([])
  const hatch = slanted(list)
  const longest = Math.max(...list.groups[0]!.bars.map(b => b.length))
  // An A4 page less its edges is as long as the longest bar.
  expect(Math.min(...hatch.map(l => l[0]))).toBeCloseTo(12, 6)
  expect(Math.max(...hatch.map(l => l[1]))).toBeLessThanOrEqual(12 + (60 * 186) / longest + 1e-6)
  expect(Math.max(...hatch.map(l => l[1]))).toBeGreaterThan(12 + (60 * 186) / longest - 0.9)
})

test('the list carries the release state of its runs and the usual cautions, as paper, text, CSV and JSON', () => {
  const finding: Finding = {
    id: 'x',
    rule: 'straightClamp',
    severity: 'error',
    where: { run: 'id-T-101', kind: 'straight', index: 1 },
    measured: 20,
    limit: 30,
    unit: 'mm',
    ...told(say`straight 2 is 20 mm`),
  }
  const list = cutList(SAMPLE, SOLVED)
  const options = { findings: [finding] }
  const paper = texts(cutListPages(SAMPLE, SOLVED, list, { date: '2026-03-04', ...options })).join(' ')
  const text = cutListCommand(SAMPLE, SOLVED, options)
  for (const said of [paper, text]) {
    expect(said).toContain('T-101: NOT RELEASED: 1 open finding')
    expect(said).not.toContain('T-103: NOT RELEASED')
    expect(said).toContain('Eye protection on')
  }
  expect(paper).toContain('T-101 (not released)')
  expect(cutListCommand(SAMPLE, SOLVED, { ...options, format: 'csv' })).toMatch(
    /T-101,.*NOT RELEASED: 1 open finding/,
  )
  const json = JSON.parse(cutListCommand(SAMPLE, SOLVED, { ...options, format: 'json' }))
  expect(json.states[0]).toEqual({ tag: 'T-101', text: 'NOT RELEASED', detail: '1 open finding' })
  expect(cutListCommand(SAMPLE, SOLVED, { findings: null })).toContain(
    'T-101: NOT RELEASED: the checks were not run',
  )
  expect(cutListText(list, [])).toContain('T-101: NOT RELEASED: the checks were not run')
})

test('a port is ordered by what it is called in the store, never by the id of a table', () => {
  const fittings = SAMPLE.fittings.map((f, i) => ({ ...f, catalogueId: i === 0 ? 'port-mm-12' : null }))
  const document = { ...SAMPLE, fittings }
  const items = billOfMaterial(document, SOLVED, cutList(document, SOLVED)).map(l => l.item)
  expect(items).toContain('Compression port, 12 mm tube')
  expect(items).toContain('f2')
  expect(items.join()).not.toContain('port-mm-12')
})

/** Of a closed outline, mm. */
const widthOf = (steps: readonly PathStep[]) => {
  const xs = steps.flatMap(s => (s[0] === 'Z' ? [] : [s[1]]))
  return Math.max(...xs) - Math.min(...xs)
}
