import { describe, expect, test } from 'vitest'
import { formatLength } from '../../src/document/quantity.ts'
import { say, told } from '../../src/document/sentence.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { type SheetOptions, sheetPages, sheetPdf } from '../../src/outputs/fabricationSheet.ts'
import type { PaperPage } from '../../src/outputs/paper.ts'
import { textBox } from '../../src/outputs/paper.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { pdfText } from '../browser/pdfText.ts'
import { seeded } from '../random.ts'
import { texts } from './paperTexts.ts'
import { randomDocument } from './randomDocument.ts'
import { SAMPLE, SOLVED } from './sampleDocument.ts'

const OPTIONS: SheetOptions = {
  date: '2026-03-04T05:06:07Z',
  findings: [],
  titleBlock: { owner: 'Invented Works', creator: 'N. N.', approver: 'M. M.', revision: 'B' },
}
const said = (pages: readonly PaperPage[]) => texts(pages).join('\n')
const tooShort = (over: Partial<Finding> = {}): Finding => ({
  id: 'straightBetweenBends:id-T-101:v1:v2',
  rule: 'straightClamp',
  severity: 'error',
  where: { run: 'id-T-101', kind: 'straight', index: 1 },
  measured: 20,
  limit: 30,
  unit: 'mm',
  ...told(say`straight 2 is 20 mm, the clamp needs 30 mm`),
  ...over,
})

const SEED = 9
test(`no text lies on another and none leaves the frame: runs of 0 to 14 bends, papers, units, seed ${SEED}`, () => {
  const random = seeded(SEED)
  for (let bends = 0; bends <= 14; bends++) {
    const document = randomDocument(random, bends)
    const solved = solveDocument(document)
    for (const paper of ['A4', 'A3', 'Letter'] as const) {
      const unit = (['mm', 'in', 'fraction'] as const)[random.whole(0, 2)]!
      for (const page of sheetPages(document, solved[0]!, { ...OPTIONS, paper, unit })) {
        expect(overlappingTexts(page.items), `${bends} bends, ${paper}, ${unit}`).toEqual([])
        const outside = page.items.flatMap(item => {
          if (item.kind !== 'text') return []
          const b = textBox(item)
          const inside =
            b.x >= 20 && b.x + b.w <= page.width - 10 && b.y >= 10 && b.y + b.h <= page.height - 10
          return inside ? [] : [item.text]
        })
        expect(outside, `${bends} bends, ${paper}, ${unit}`).toEqual([])
      }
    }
  }
})

describe('what a fabricator reads', () => {
  const pages = sheetPages(SAMPLE, SOLVED[0]!, OPTIONS)
  const solved = SOLVED[0]!

  test('cut length, every mark, turn with its way, wanted angle and dial reading', () => {
    const all = texts(pages)
    expect(all).toContain(`${formatLength(solved.cutLength!, 'mm', { digits: 1, fixed: true })} mm`)
    let at = solved.insertionA + 3
    solved.route!.bends.forEach((b, i) => {
      at += solved.route!.straights[i]!
      // Mark: everything ahead of the bend on the straight stock and the 3 mm of the die's reference line.
      expect(all).toContain(formatLength(at, 'mm', { digits: 1, fixed: true }))
      at += b.arcLength
      expect(all).toContain((b.angle + 1.2 + 0.02 * b.angle).toFixed(1))
      if (b.rotation !== null)
        expect(all.join(' ')).toContain(
          `Rotate ${Math.abs(b.rotation).toFixed(1)}° ${b.rotation > 0 ? 'clockwise' : 'counter-clockwise'}`,
        )
    })
    // Rings of the three views: ends and bends.
    for (const label of ['A', '1', '2', '3', '4', 'B'])
      expect(all.filter(t => t === label).length).toBeGreaterThanOrEqual(3)
  })

  test('title block fields, sheet numbers and the end-to-end check in parentheses', () => {
    const all = texts(pages)
    for (const t of [
      'Legal owner',
      'Invented Works',
      'Identification number',
      'Title',
      'Creator',
      'N. N.',
      'Approved by',
      'M. M.',
      'Date of issue',
      '2026-03-04',
      'Revision',
      'B',
      'Sheet',
      '1 / 2',
      '2 / 2',
      'Document type',
      'Fabrication sheet',
    ])
      expect(all).toContain(t)
    // What a tape reads: from cut end to cut end, 17 mm past either port's face along the tube.
    const [a, b] = [[-17, 0, 500] as const, [700, 450, 103] as const]
    const tube = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2])
    const faces = Math.hypot(700, 450, 500 - 120)
    expect(texts(pages).join(' ')).toContain(`(${tube.toFixed(1)} mm); port faces (${faces.toFixed(1)} mm)`)
  })

  test('legs are taped from the tube’s own ends, and an insertion mark is named for both', () => {
    const all = texts(pages)
    expect(all.filter(t => t === '(177.0)').length).toBe(2)
    expect(all.join(' ')).toContain('17.0 mm from end A and 17.0 mm from end B')
    for (const t of ['End A of the tube', 'Port face A', 'Port face B', 'End B of the tube'])
      expect(all).toContain(t)
  })

  test('the shop’s tolerances are printed as given, in the unit of the sheet, with what the angles’ does at an end', () => {
    const tolerances = { length: 0.8, angle: 0.4, turn: null, ends: 2.5 }
    const all = (unit: 'mm' | 'in' | 'fraction') =>
      texts(sheetPages(SAMPLE, solved, { ...OPTIONS, tolerances, unit })).join(' ')
    expect(all('mm')).toContain('Straights ±0.8 mm, bend angles ±0.4°, end to end ±2.5 mm.')
    expect(all('mm')).toMatch(/0\.4° in bend \d moves end [AB] [\d.]+ mm/)
    for (const unit of ['in', 'fraction'] as const) {
      expect(all(unit)).toContain('Straights ±0.031 in, bend angles ±0.4°, end to end ±0.098 in.')
      expect(all(unit)).toMatch(/0\.4° in bend \d moves end [AB] 0\.\d+ in/)
    }
    expect(all('mm')).not.toContain('Invented for the demo')
  })

  test('without tolerances a real skid says that none are given; one of invented figures has invented ones, and says so', () => {
    const of = (invented: boolean) => texts(sheetPages({ ...SAMPLE, invented }, solved, OPTIONS)).join(' ')
    expect(of(false)).toContain('None given on this sheet')
    expect(of(false)).not.toContain('±')
    expect(of(true)).toMatch(/Straights ±1 mm.*Invented for the demo/)
  })

  test('the other end leading mirrors the order: marks from end B, turns with their sign', () => {
    const all = texts(sheetPages(SAMPLE, solved, { ...OPTIONS, order: 'B' }))
    expect(all.filter(t => t === 'from end B').length).toBeGreaterThanOrEqual(4)
    const mark = solved.insertionB + solved.route!.straights.at(-1)! + 3
    expect(all).toContain(mark.toFixed(1))
  })

  test('an order from both ends says from which end each mark is and where the tube is swung', () => {
    const order = [
      { bend: 0, lead: 'A' },
      { bend: 3, lead: 'B' },
      { bend: 2, lead: 'B' },
      { bend: 1, lead: 'A' },
    ] as const
    const pages = sheetPages(SAMPLE, solved, { ...OPTIONS, order })
    for (const page of pages) expect(overlappingTexts(page.items)).toEqual([])
    const all = texts(pages)
    const said = all.join(' ')
    const marks = [
      solved.insertionA + solved.route!.straights[0]! + 3,
      solved.insertionB + solved.route!.straights[4]! + 3,
    ].map(mm => mm.toFixed(1))
    expect(said).toContain(`${marks[0]} from end A`)
    expect(said).toContain(`${marks[1]} from end B`)
    expect(said.match(/turn it end for end; end [AB] now goes in first/g)).toEqual([
      'turn it end for end; end B now goes in first',
      'turn it end for end; end A now goes in first',
    ])
    // From end A's first mark to the one by end B, and back again, as printed, along the stock.
    const far = Number(solved.cutLength!.toFixed(1)) - Number(marks[1])
    expect(said).toContain(`${(far - Number(marks[0])).toFixed(1)} on towards end B, from the previous mark`)
    expect(said).toMatch(/\d+\.\d back towards end A, from the previous mark/)
    expect(said).not.toMatch(/-\d+\.\d from the previous mark/)
  })

  test('fractions say the largest error that they make', () => {
    const t = said(sheetPages(SAMPLE, solved, { ...OPTIONS, unit: 'fraction', fractionOf: 16 })).replaceAll(
      '\n',
      ' ',
    )
    const m = /nearest 1\/16 in; the largest rounding error on this sheet is (\d+\.\d+) mm/.exec(t)
    expect(Number(m?.[1])).toBeGreaterThan(0)
    expect(Number(m?.[1])).toBeLessThanOrEqual(25.4 / 32 + 0.005)
  })

  test('without a bender there are no marks or dial readings, and the sheet says why', () => {
    const t = said(sheetPages(SAMPLE, SOLVED[1]!, OPTIONS))
    expect(t).toMatch(/No bender is chosen: marks and dial readings are not given/)
    expect(t).toMatch(/trial/)
  })
})

describe('the stamp', () => {
  const stamp = (document: SkidDocument, over: Partial<SheetOptions>) =>
    said(sheetPages(document, SOLVED[0]!, { ...OPTIONS, ...over }))

  test('an open finding keeps the sheet from release and is printed', () => {
    const t = stamp(SAMPLE, { findings: [tooShort()] })
    expect(t).toContain('NOT RELEASED')
    expect(t).toContain('straight 2 is 20 mm, the clamp needs 30 mm')
  })
  test('an override is printed with who and why, and not as a plain release', () => {
    const t = stamp(SAMPLE, { findings: [tooShort()], override: { by: 'Q. Q.', reason: 'trial piece' } })
    expect(t).toMatch(/RELEASED BY OVERRIDE\n1 open finding, Q. Q.: trial piece/)
  })
  test('checks that were not run never read as no findings', () => {
    expect(stamp(SAMPLE, { findings: null })).toMatch(/NOT RELEASED\nthe checks were not run/)
    const t = stamp(SAMPLE, { findings: [tooShort({ severity: 'notChecked', ...told(say`not looked at`) })] })
    expect(t).toContain('NOT FULLY CHECKED')
    expect(t).not.toContain('NO OPEN FINDINGS')
  })
  test('an accepted finding is printed with its reason, and a finding of another run is not', () => {
    const document: SkidDocument = {
      ...SAMPLE,
      acceptances: [
        {
          finding: tooShort().id,
          category: 'stays as built',
          reason: 'bent like this before',
          by: 'R. R.',
          on: '2026-01-01',
          measured: 20,
          limit: 30,
        },
      ],
    }
    const elsewhere = tooShort({
      id: 'x',
      where: { run: 'id-T-103', kind: 'run', index: null },
      ...told(say`elsewhere`),
    })
    const t = stamp(document, { findings: [tooShort(), elsewhere] }).replaceAll('\n', ' ')
    expect(t).toContain('NO OPEN FINDINGS')
    expect(t).toMatch(/bent like this before - R. R., 2026-01-01/)
    expect(t).not.toContain('elsewhere')
  })
})

describe('the file', () => {
  const text = (b: Uint8Array) => Array.from(b, c => String.fromCharCode(c)).join('')
  test('the same run and date give the same bytes; another date does not', async () => {
    const a = await sheetPdf(SAMPLE, SOLVED, OPTIONS)
    expect(await sheetPdf(SAMPLE, SOLVED, OPTIONS)).toEqual(a)
    expect(await sheetPdf(SAMPLE, SOLVED, { ...OPTIONS, date: '2027-01-01T00:00:00Z' })).not.toEqual(a)
  })
  test('every cross-reference points at its object and every stream is as long as it says', async () => {
    const pdf = text(await sheetPdf(SAMPLE, SOLVED, OPTIONS))
    const start = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(pdf)?.[1])
    const table = pdf.slice(start).split('\n')
    expect(table[0]).toBe('xref')
    const count = Number(table[1]!.split(' ')[1])
    for (let i = 1; i < count; i++) {
      const at = Number(table[2 + i]!.slice(0, 10))
      expect(pdf.slice(at).startsWith(`${i} 0 obj\n`)).toBe(true)
    }
    const streams = [...pdf.matchAll(/\/Length (\d+)\n(?:\/[^\n]*\n)*>>\nstream\n/g)]
    expect(streams.length).toBeGreaterThan(Number(/\/Count (\d+)/.exec(pdf)?.[1]))
    expect(streams.length).toBe([...pdf.matchAll(/\nendstream\n/g)].length)
    for (const m of streams)
      expect(pdf.slice(m.index + m[0].length + Number(m[1])).startsWith('\nendstream')).toBe(true)
  })
  test('parentheses, backslashes and foreign letters in names break nothing and are said', async () => {
    const document: SkidDocument = {
      ...SAMPLE,
      runs: [{ ...SAMPLE.runs[0]!, tag: 'a)(\\ 管', service: ') Tj ET' }],
    }
    const solved = solveDocument(document)
    const read = await pdfText(await sheetPdf(document, solved, OPTIONS))
    expect(read).toContain('a)(\\ ?')
    expect(read).toContain(') Tj ET')
    expect(said(sheetPages(document, solved[0]!, OPTIONS))).toMatch(
      /1 character of the names used here cannot be printed/,
    )
  })
})

test('an override’s reason stands in full on the sheet, however long it is', () => {
  const reason = `${'held by the second clamp position, as agreed with the shop, '.repeat(6)}see the jig`
  const pages = sheetPages(SAMPLE, SOLVED[0]!, {
    ...OPTIONS,
    findings: [tooShort()],
    override: { by: 'N. N.', reason },
  })
  expect(texts(pages).join(' ').replace(/ +/g, ' ')).toContain(`by N. N.: ${reason}`)
  for (const page of pages) expect(overlappingTexts(page.items)).toEqual([])
})
