import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import {
  JOIN_WIDTH,
  MARK_WIDTH,
  type StripOptions,
  stripPages,
  stripPdf,
} from '../../src/outputs/markingStrip.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'
import { type PdfLine, pdfLines } from './pdfLines.ts'
import { randomDocument } from './randomDocument.ts'
import { SAMPLE, SOLVED } from './sampleDocument.ts'

const DATE = { date: '2026-03-04' }
const WITHIN = 0.05
const upright = (l: PdfLine) => Math.abs(l.x1 - l.x2) < 1e-3
const level = (l: PdfLine) => Math.abs(l.y1 - l.y2) < 1e-3
const long = (l: PdfLine) => Math.hypot(l.x2 - l.x1, l.y2 - l.y1)

/** Where the marks must be, from the route alone: what lies ahead of each bend on the straight stock, and 3 mm of offset. */
function wantedMarks(solved: (typeof SOLVED)[number]): number[] {
  let at = solved.insertionA + 3
  return solved.route!.bends.map((b, i) => {
    at += solved.route!.straights[i]!
    const mark = at
    at += b.arcLength
    return mark
  })
}

/** Marks and cut as a person reads them off the cut-out and joined strips, mm on paper from end A. */
function readStrips(bytes: Uint8Array): { marks: number[]; cut: number; strips: number } {
  const { lines } = pdfLines(bytes)
  const thick = (w: number) => (l: PdfLine) => upright(l) && Math.abs(l.width - w) < 1e-3
  const ends = lines.filter(thick(0.7))
  const joins = lines.filter(l => thick(JOIN_WIDTH)(l) && l.dashed)
  const rows = new Map<string, { heads: number[]; marks: number[] }>()
  const row = (l: PdfLine) => {
    const key = `${l.page}:${((l.y1 + l.y2) / 2).toFixed(1)}`
    const entry = rows.get(key) ?? { heads: [], marks: [] }
    rows.set(key, entry)
    return entry
  }
  for (const l of [...ends, ...joins]) row(l).heads.push(l.x1)
  for (const l of lines.filter(thick(MARK_WIDTH))) row(l).marks.push(l.x1)
  const inOrder = [...rows]
    .map(([key, r]) => ({ page: Number(key.split(':')[0]), y: Number(key.split(':')[1]), ...r }))
    .sort((a, b) => a.page - b.page || a.y - b.y)
  let from = 0
  const marks: number[] = []
  for (const r of inOrder) {
    const [head, tail] = [Math.min(...r.heads), Math.max(...r.heads)]
    // Marks on the tab are there again on the next strip.
    for (const x of r.marks.sort((a, b) => a - b)) if (x < tail) marks.push(from + x - head)
    from += tail - head
  }
  return { marks, cut: from, strips: inOrder.length }
}

describe('the strip on paper, read from the file’s own drawing operators', () => {
  for (const paper of ['A4', 'A3', 'Letter'] as const)
    test(`${paper}: every mark and the cut within 0.05 mm, check bars 100 mm both ways`, () => {
      const bytes = stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, paper })
      const { marks, cut } = readStrips(bytes)
      const wanted = wantedMarks(SOLVED[0]!)
      expect(marks.length).toBe(wanted.length)
      wanted.forEach((w, i) => {
        expect(Math.abs(marks[i]! - w)).toBeLessThan(WITHIN)
      })
      expect(Math.abs(cut - SOLVED[0]!.cutLength!)).toBeLessThan(WITHIN)
      const { lines, pages } = pdfLines(bytes)
      for (const [p, page] of pages.entries()) {
        const bars = lines.filter(
          l => l.page === p && Math.abs(long(l) - 100) < WITHIN && l.width < 0.3 && l.width > 0.2,
        )
        expect([bars.filter(level).length, bars.filter(upright).length]).toEqual([1, 1])
        for (const l of lines.filter(q => q.page === p))
          for (const [x, y] of [
            [l.x1, l.y1],
            [l.x2, l.y2],
          ] as const) {
            // 6 mm that most printers cannot print on (common practice, no source).
            expect(x).toBeGreaterThan(6)
            expect(x).toBeLessThan(page.width - 6)
            expect(y).toBeGreaterThan(6)
            expect(y).toBeLessThan(page.height - 6)
          }
      }
    })

  test('an order from both ends: marks for the bends that end B leads are on its side of the tangent point', () => {
    const order = [
      { bend: 0, lead: 'A' },
      { bend: 3, lead: 'B' },
      { bend: 2, lead: 'B' },
      { bend: 1, lead: 'B' },
    ] as const
    const { marks } = readStrips(stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, order }))
    const route = SOLVED[0]!.route!
    // From end A: bend 1 as always; the others 3 mm before their end-B tangent point, since there the tail is at A.
    const wanted = wantedMarks(SOLVED[0]!).map((m, i) =>
      i === 0 ? m : m - 3 + route.bends[i]!.arcLength - 3,
    )
    wanted.forEach((w, i) => {
      expect(Math.abs(marks[i]! - w)).toBeLessThan(WITHIN)
    })
  })

  const SEED = 31
  test(`40 random runs on one to several pages, laid or wrapped: marks and cut within 0.05 mm, seed ${SEED}`, () => {
    const random = seeded(SEED)
    for (let i = 0; i < 40; i++) {
      const document = randomDocument(random, random.whole(1, 12))
      const solved = solveDocument(document)[0]!
      const options: StripOptions = {
        ...DATE,
        paper: (['A4', 'A3', 'Letter'] as const)[random.whole(0, 2)]!,
        form: random.next() < 0.5 ? 'lay' : 'wrap',
      }
      const { marks, cut } = readStrips(stripPdf(document, solved, options))
      wantedMarks(solved).forEach((w, k) => {
        expect(Math.abs(marks[k]! - w)).toBeLessThan(WITHIN)
      })
      expect(Math.abs(cut - solved.cutLength!)).toBeLessThan(WITHIN)
      for (const page of stripPages(document, solved, options))
        expect(overlappingTexts(page.items)).toEqual([])
    }
  })

  test('a printer that draws 99.2 for 100 along and 100.7 across comes out right with its measured bars', () => {
    const measured = { x: 99.2, y: 100.7 }
    const bytes = stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, measured })
    const { marks, cut } = readStrips(bytes)
    wantedMarks(SOLVED[0]!).forEach((w, k) => {
      expect(Math.abs(marks[k]! * 0.992 - w)).toBeLessThan(WITHIN)
    })
    expect(Math.abs(cut * 0.992 - SOLVED[0]!.cutLength!)).toBeLessThan(WITHIN)
    const bars = pdfLines(bytes).lines.filter(l => l.width < 0.3 && l.width > 0.2)
    expect(bars.some(l => level(l) && Math.abs(long(l) * 0.992 - 100) < WITHIN)).toBe(true)
    expect(bars.some(l => upright(l) && Math.abs(long(l) * 1.007 - 100) < WITHIN)).toBe(true)
  })

  test('wrapped, the band is as wide as the tube is round', () => {
    const { lines } = pdfLines(stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, form: 'wrap' }))
    for (const l of lines.filter(q => upright(q) && Math.abs(q.width - MARK_WIDTH) < 1e-3))
      expect(Math.abs(long(l) - Math.PI * 12)).toBeLessThan(WITHIN)
  })

  test('the file asks the printer not to scale', () => {
    const text = Buffer.from(stripPdf(SAMPLE, SOLVED[0]!, DATE)).toString('latin1')
    expect(text).toContain('/PrintScaling /None')
    expect(stripPdf(SAMPLE, SOLVED[0]!, DATE)).toEqual(stripPdf(SAMPLE, SOLVED[0]!, DATE))
  })

  test('no bender, or bars that are far off, are refused by name', () => {
    expect(() => stripPdf(SAMPLE, SOLVED[1]!, DATE)).toThrow(/strip of run T-102.*found no bender/)
    expect(() => stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, measured: { x: 94, y: 100 } })).toThrow(
      /strip: measured x bar: found 94 mm/,
    )
  })
})

const rasteriser = spawnSync('pdftoppm', ['-v']).error === undefined
test.skipIf(!rasteriser)(
  'rasterised at 600 dpi by pdftoppm (where it is installed): bars and marks within 0.05 mm',
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'strip-'))
    writeFileSync(join(folder, 's.pdf'), stripPdf(SAMPLE, SOLVED[0]!, DATE))
    execFileSync('pdftoppm', ['-r', '600', '-gray', '-singlefile', join(folder, 's.pdf'), join(folder, 's')])
    const file = readFileSync(join(folder, 's.pgm'))
    const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(file.subarray(0, 40).toString('latin1'))!
    const [w, h] = [Number(head[1]), Number(head[2])]
    const ink = (x: number, y: number) => 255 - file[head[0].length + y * w + x]!
    const px = 600 / 25.4
    expect(Math.abs(w / px - 297)).toBeLessThan(0.1)
    expect(Math.abs(h / px - 210)).toBeLessThan(0.1)
    /** Ink-weighted middles of dark stretches along one pixel row (or column), mm. */
    const darkAlong = (count: number, at: (i: number) => number): number[] => {
      const found: number[] = []
      let [sum, weight] = [0, 0]
      for (let i = 0; i <= count; i++) {
        const v = i < count ? at(i) : 0
        if (v > 100) {
          sum += v * (i + 0.5)
          weight += v
        } else if (weight > 0) {
          found.push(sum / weight / px)
          ;[sum, weight] = [0, 0]
        }
      }
      return found
    }
    // The X bar's end ticks 1.5 mm below its line; the strip's end line and first mark through the middle of the band.
    const ticks = darkAlong(w, x => ink(x, Math.round((14 + 1.5) * px))).filter(x => x > 160)
    expect(Math.abs(ticks.at(-1)! - ticks[0]! - 100)).toBeLessThan(WITHIN)
    const column = Math.round((297 - 10 + 1.5) * px)
    const up = darkAlong(h, y => ink(column, y)).filter(y => y > 30)
    expect(Math.abs(up.at(-1)! - up[0]! - 100)).toBeLessThan(WITHIN)
    const across = darkAlong(w, x => ink(x, Math.round((26 + 10) * px)))
    const wanted = wantedMarks(SOLVED[0]!)[0]!
    expect(across.some(x => Math.abs(x - across[0]! - wanted) < WITHIN)).toBe(true)
  },
)
