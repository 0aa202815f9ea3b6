import { describe, expect, test } from 'vitest'
import { say, told } from '../../src/document/sentence.ts'
import type { Finding } from '../../src/findings/finding.ts'
import {
  JOIN_WIDTH,
  MARK_WIDTH,
  SIDE_WIDTH,
  type StripOptions,
  stripPages,
  stripPdf,
} from '../../src/outputs/markingStrip.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'
import { texts } from './paperTexts.ts'
import { type PdfLine, pdfLines } from './pdfLines.ts'
import { randomDocument } from './randomDocument.ts'
import { rasterise } from './rasterise.ts'
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
    test(`${paper}: every mark and the cut within 0.05 mm, check bars 100 mm both ways`, async () => {
      const bytes = await stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, paper })
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

  test('an order from both ends: marks for the bends that end B leads are on its side of the tangent point', async () => {
    const order = [
      { bend: 0, lead: 'A' },
      { bend: 3, lead: 'B' },
      { bend: 2, lead: 'B' },
      { bend: 1, lead: 'B' },
    ] as const
    const { marks } = readStrips(await stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, order }))
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
  test(`40 random runs on one to several pages, laid or wrapped: marks and cut within 0.05 mm, seed ${SEED}`, async () => {
    const random = seeded(SEED)
    for (let i = 0; i < 40; i++) {
      const document = randomDocument(random, random.whole(1, 12))
      const solved = solveDocument(document)[0]!
      const options: StripOptions = {
        ...DATE,
        paper: (['A4', 'A3', 'Letter'] as const)[random.whole(0, 2)]!,
        form: random.next() < 0.5 ? 'lay' : 'wrap',
      }
      const { marks, cut } = readStrips(await stripPdf(document, solved, options))
      wantedMarks(solved).forEach((w, k) => {
        expect(Math.abs(marks[k]! - w)).toBeLessThan(WITHIN)
      })
      expect(Math.abs(cut - solved.cutLength!)).toBeLessThan(WITHIN)
      for (const page of stripPages(document, solved, options))
        expect(overlappingTexts(page.items)).toEqual([])
    }
  })

  test('a printer that draws 99.2 for 100 along and 100.7 across comes out right with its measured bars', async () => {
    const measured = { x: 99.2, y: 100.7 }
    const bytes = await stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, measured })
    const { marks, cut } = readStrips(bytes)
    wantedMarks(SOLVED[0]!).forEach((w, k) => {
      expect(Math.abs(marks[k]! * 0.992 - w)).toBeLessThan(WITHIN)
    })
    expect(Math.abs(cut * 0.992 - SOLVED[0]!.cutLength!)).toBeLessThan(WITHIN)
    const bars = pdfLines(bytes).lines.filter(l => l.width < 0.3 && l.width > 0.2)
    expect(bars.some(l => level(l) && Math.abs(long(l) * 0.992 - 100) < WITHIN)).toBe(true)
    expect(bars.some(l => upright(l) && Math.abs(long(l) * 1.007 - 100) < WITHIN)).toBe(true)
  })

  test('wrapped, the band is as wide as the tube is round', async () => {
    const { lines } = pdfLines(await stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, form: 'wrap' }))
    for (const l of lines.filter(q => upright(q) && Math.abs(q.width - MARK_WIDTH) < 1e-3))
      expect(Math.abs(long(l) - Math.PI * 12)).toBeLessThan(WITHIN)
  })

  test('the file asks the printer not to scale', async () => {
    const text = Buffer.from(await stripPdf(SAMPLE, SOLVED[0]!, DATE)).toString('latin1')
    expect(text).toContain('/PrintScaling /None')
    expect(await stripPdf(SAMPLE, SOLVED[0]!, DATE)).toEqual(await stripPdf(SAMPLE, SOLVED[0]!, DATE))
  })

  test('no bender, or bars that are far off, are refused by name', async () => {
    await expect(stripPdf(SAMPLE, SOLVED[1]!, DATE)).rejects.toThrow(/strip of run T-102.*found no bender/)
    await expect(stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, measured: { x: 94, y: 100 } })).rejects.toThrow(
      /strip: measured x bar: found 94 mm/,
    )
  })
})

/** Ink-weighted middles of the dark stretches along one row or column of pixels, mm. */
function darkAlong(count: number, perMm: number, ink: (i: number) => number): number[] {
  const found: number[] = []
  let [sum, weight] = [0, 0]
  for (let i = 0; i <= count; i++) {
    const v = i < count ? ink(i) : 0
    if (v > 100) {
      sum += v * (i + 0.5)
      weight += v
    } else if (weight > 0) {
      found.push(sum / weight / perMm)
      ;[sum, weight] = [0, 0]
    }
  }
  return found
}

describe('the strip as a printer puts it down, rasterised at 600 dpi', () => {
  const cases: readonly { name: string; options: StripOptions; drawn: { x: number; y: number } }[] = [
    { name: 'A4', options: { ...DATE, paper: 'A4' }, drawn: { x: 1, y: 1 } },
    { name: 'A3', options: { ...DATE, paper: 'A3' }, drawn: { x: 1, y: 1 } },
    { name: 'Letter', options: { ...DATE, paper: 'Letter' }, drawn: { x: 1, y: 1 } },
    {
      name: 'A4 for a printer that draws 99.2 for 100 along and 100.7 across',
      options: { ...DATE, paper: 'A4', measured: { x: 99.2, y: 100.7 } },
      drawn: { x: 0.992, y: 1.007 },
    },
  ]
  test.each(cases)('$name: both bars and every mark within 0.05 mm', async ({ options, drawn }) => {
    const bytes = await stripPdf(SAMPLE, SOLVED[0]!, options)
    const pages = await rasterise(bytes, 600)
    // Where the strips lie on the page: the upper edges of the bands.
    const edges = pdfLines(bytes).lines.filter(l => level(l) && Math.abs(l.width - 0.13) < 1e-3)
    const topOf = (p: number) => Math.min(...edges.filter(l => l.page === p).map(l => l.y1))
    const wanted = wantedMarks(SOLVED[0]!)
    const found: number[] = []
    let stripsBefore = 0
    for (const [p, { width, height, grey, perMm }] of pages.entries()) {
      const page = { w: width / perMm.x, h: height / perMm.y }
      /** Dark places in mm along the row at `mm` from the top, and down the column at `mm` from the left. */
      const row = (mm: number) =>
        darkAlong(width, perMm.x, x => 255 - grey[Math.round(mm * perMm.y) * width + x]!)
      const column = (mm: number) =>
        darkAlong(height, perMm.y, y => 255 - grey[y * width + Math.round(mm * perMm.x)]!)
      // The X bar's end ticks 1.5 mm below its line, the Y bar's 1.5 mm to the left of its own.
      const barX = row(14 + 1.5).filter(x => x > page.w / 2)
      expect(Math.abs((barX.at(-1)! - barX[0]!) * drawn.x - 100)).toBeLessThan(WITHIN)
      const barY = column(page.w - 10 - 1.5).filter(y => y > 30)
      expect(Math.abs((barY.at(-1)! - barY[0]!) * drawn.y - 100)).toBeLessThan(WITHIN)
      // Each strip is a band between two level lines; marks cross it, the letters end above 8 mm down.
      for (let top = topOf(p); ; top += (16 + 9) / drawn.y) {
        const middle = top + 10.5 / drawn.y
        if (middle > page.h - 8) break
        const dark = row(middle).filter(x => x < page.w - 20)
        if (dark.length === 0) break
        // The heads of strips stand at 12 mm; what lies beyond the joining line comes again on the next strip.
        const each = Math.floor(((page.w - 12 - 24 - 12) * drawn.x) / 10) * 10
        const from = stripsBefore * each
        stripsBefore++
        for (const x of dark) {
          const along = (x - 12) * drawn.x
          if (along > 0.5 && along < each - 0.5) found.push(from + along)
        }
      }
    }
    for (const w of wanted)
      expect(
        found.some(f => Math.abs(f - w) < WITHIN),
        `mark at ${w}`,
      ).toBe(true)
    expect(
      found.some(f => Math.abs(f - SOLVED[0]!.cutLength!) < WITHIN),
      'the cut',
    ).toBe(true)
    // Besides marks and cut nothing dark crosses the band here but what says where the ports' faces come.
    const faces = [17, SOLVED[0]!.cutLength! - 17]
    const others = found.filter(f => !faces.some(at => Math.abs(f - at) < 0.2))
    expect(others.length).toBe(wanted.length + 1)
  })
})

describe('what the strip says', () => {
  const all = (options: Partial<StripOptions>, document = SAMPLE) =>
    texts(stripPages(document, solveDocument(document)[0]!, { ...DATE, findings: [], ...options }))
  const said = (options: Partial<StripOptions>, document = SAMPLE) => all(options, document).join(' ')

  test('its ruler is in the unit shown and says which; legends name the shading and which line is the mark', () => {
    for (const unit of ['mm', 'in', 'fraction'] as const) {
      const words = all({ unit })
      const figures = words.flatMap(t => (/^\d+( (mm|in))?$/.exec(t) ? [t] : []))
      expect(figures.some(t => t.endsWith(unit === 'mm' ? ' mm' : ' in'))).toBe(true)
      expect(figures.some(t => t.endsWith(unit === 'mm' ? ' in' : ' mm'))).toBe(false)
      expect(words.join(' ')).toContain('stock that goes into the bend; its edge is not a mark')
      expect(words.join(' ')).toContain('middle of the thick line')
    }
  })

  test('each figure of an inch ruler stands an inch on from the one before, on paper, across the joins', () => {
    for (const paper of ['A4', 'A3', 'Letter'] as const) {
      const [page] = stripPages(SAMPLE, SOLVED[0]!, { ...DATE, paper, unit: 'fraction' })
      const rows = new Map<number, { x: number; n: number }[]>()
      for (const item of page!.items)
        if (item.kind === 'text' && item.size === 2.2 && /^\d+( in)?$/.test(item.text)) {
          const row = rows.get(item.y) ?? []
          rows.set(item.y, row)
          row.push({ x: item.x, n: Number.parseInt(item.text, 10) })
        }
      let before = 0
      for (const [, row] of [...rows].sort(([a], [b]) => a - b)) {
        for (const { x, n } of row) {
          // The head of every strip stands 12 mm in; strips hold whole inches.
          const from = Math.round(n - (x - 12) / 25.4)
          expect(x).toBeCloseTo(12 + (n - from) * 25.4, 6)
          expect(n).toBeGreaterThan(before)
          before = n
        }
      }
    }
  })

  test('a mark from the other end says so where it stands, and insertion marks stand at both ends', async () => {
    const order = [
      { bend: 0, lead: 'A' },
      { bend: 3, lead: 'B' },
      { bend: 2, lead: 'B' },
      { bend: 1, lead: 'A' },
    ] as const
    const words = said({ order })
    const mark = SOLVED[0]!.insertionB + SOLVED[0]!.route!.straights[4]! + 3
    expect(words).toContain(`STEP 2   BEND 4   ${mark.toFixed(1)} from end B`)
    expect(words).toContain('end for end, end B first')
    for (const end of ['A', 'B']) expect(words).toContain(`INSERTION, END ${end}  17.0`)
    const { lines } = pdfLines(await stripPdf(SAMPLE, SOLVED[0]!, { ...DATE, order }))
    const strokes = lines.filter(l => upright(l) && l.dashed && Math.abs(l.width - SIDE_WIDTH) < 1e-3)
    expect(strokes.some(l => Math.abs(l.x1 - 12 - 17) < WITHIN)).toBe(true)
  })

  test('a trim stands where it comes off, and the far end’s insertion is from there', () => {
    const document = { ...SAMPLE, runs: [{ ...SAMPLE.runs[0]!, trimAllowance: 25 }] }
    const words = said({}, document)
    expect(words).toContain('TRIM 25.0 OFF END B AFTER THE LAST BEND')
    expect(words).toContain('INSERTION, END B  17.0 (from the trim)')
  })

  test('a strip carries the release state, by strip, too, and the usual cautions', () => {
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
    expect(said({})).toContain('NO OPEN FINDINGS')
    const open = all({ findings: [finding] })
    expect(open).toContain('NOT RELEASED')
    expect(open).toContain('1 open finding')
    expect(open.filter(t => t === 'T-101   NOT RELEASED').length).toBeGreaterThan(2)
    expect(said({ findings: [finding], override: { by: 'N. N.', reason: 'trial piece' } })).toMatch(
      /RELEASED BY OVERRIDE.*N\. N\.: trial piece/,
    )
    expect(said({ findings: null })).toContain('the checks were not run')
    for (const caution of [/pinch points/, /stores energy/, /Eye protection/])
      expect(said({})).toMatch(caution)
  })

  test('a run that cannot be made is stamped so, whoever releases it', () => {
    const run = SAMPLE.runs[0]!
    const document = {
      ...SAMPLE,
      runs: [
        {
          ...run,
          vertices: run.vertices.map((v, i) => (i === 1 ? { ...v, at: [175, 12, 505] as const } : v)),
        },
      ],
    }
    const words = said({ override: { by: 'N. N.', reason: 'all the same' } }, document)
    expect(words).toMatch(/CANNOT BE MADE NOT RELEASED: straight/)
    expect(words).not.toContain('RELEASED BY OVERRIDE')
  })

  test('a corrected strip says by what and for which printer, one bar is enough, and a plain one says nothing', () => {
    const corrected = said({ measured: { x: 98.6 }, printer: 'upstairs' })
    expect(corrected).toContain('CORRECTED for printer “upstairs” whose bars measured X 98.6 mm and Y 100 mm')
    expect(corrected).toContain('stretched by 1.0142 along and 1.0000 across')
    expect(said({ measured: { y: 101 } })).toContain('stretched by 1.0000 along and 0.9901 across')
    for (const plain of [said({}), said({ measured: { x: 100, y: 100 } })])
      expect(plain).not.toContain('CORRECTED')
  })

  const SEED = 707
  test(`no words lie on others: 40 random runs and orders, papers, units and forms, seed ${SEED}`, () => {
    const random = seeded(SEED)
    for (let i = 0; i < 40; i++) {
      const document = randomDocument(random, random.whole(1, 9))
      const solved = solveDocument(document)[0]!
      const left = solved.route!.bends.map((_, bend) => bend)
      const order = solved.route!.bends.map(() => ({
        bend: left.splice(random.whole(0, left.length - 1), 1)[0]!,
        lead: random.next() < 0.5 ? ('A' as const) : ('B' as const),
      }))
      const options: StripOptions = {
        ...DATE,
        order,
        paper: (['A4', 'A3', 'Letter'] as const)[random.whole(0, 2)]!,
        unit: (['mm', 'in', 'fraction'] as const)[random.whole(0, 2)]!,
        form: random.next() < 0.5 ? 'lay' : 'wrap',
        ...(random.next() < 0.5 ? { measured: { x: random.between(97, 103) } } : {}),
      }
      for (const page of stripPages(document, solved, options))
        expect(overlappingTexts(page.items)).toEqual([])
    }
  })
})
