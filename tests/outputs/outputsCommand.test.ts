import { describe, expect, test } from 'vitest'
import { readPoints, readRows } from '../../src/document/readTable.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import {
  cutListCommand,
  EXPORTS,
  type ExportKind,
  exportCommand,
  sheetCommand,
  stripCommand,
} from '../../src/outputs/outputsCommand.ts'
import { textWidth } from '../../src/outputs/paperFont.ts'
import { runDrawing } from '../../src/outputs/runDrawing.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { SAMPLE, SOLVED } from './sampleDocument.ts'

const DATE = { date: '2026-03-04T05:06:07Z' }
const text = (b: Uint8Array) => new TextDecoder().decode(b)

test('points and rows as CSV are read back to the last digit', () => {
  const points = readPoints(text(exportCommand(SAMPLE, SOLVED, { to: 'csv', run: 'T-101', ...DATE })))
  expect(points).toEqual({ ok: true, points: SOLVED[0]!.route!.points })
  const rows = readRows(text(exportCommand(SAMPLE, SOLVED, { to: 'rows', run: 'T-101', ...DATE })))
  expect(rows).toEqual({
    ok: true,
    rows: {
      straights: SOLVED[0]!.route!.straights,
      bends: SOLVED[0]!.route!.bends.map(b => ({ angle: b.angle, rotation: b.rotation })),
    },
  })
})

test('JSON holds every figure in full precision, the first rotation null', () => {
  const data = JSON.parse(text(exportCommand(SAMPLE, SOLVED, { to: 'json', ...DATE })))
  expect(data.runs.map((r: { tag: string }) => r.tag)).toEqual(SAMPLE.runs.map(r => r.tag))
  expect(data.runs[0].straights).toEqual(SOLVED[0]!.route!.straights)
  expect(data.runs[0].bends[0]).toMatchObject({
    vertex: 2,
    angle: SOLVED[0]!.route!.bends[0]!.angle,
    rotation: null,
    clr: 36,
    tangentLength: SOLVED[0]!.route!.bends[0]!.tangentLength,
    arcLength: SOLVED[0]!.route!.bends[0]!.arcLength,
  })
  expect(data.runs[0].cutLength).toBe(SOLVED[0]!.cutLength)
})

describe('SVG of the drawing', () => {
  const svg = text(exportCommand(SAMPLE, SOLVED, { to: 'svg', run: 'T-101', ...DATE }))

  test('the centre line in plan is as long as the tube is in plan, from end to end, by the curves in the file', () => {
    // The thinnest strokes are the centre line; in the last two views they are at the named scale.
    const scale = 1 / Number(/Plan, seen from \+Z {3}1:(\d+)/.exec(svg)![1])
    const wanted = { plan: flatLength([0, 1]) * scale, front: flatLength([0, 2]) * scale }
    const lengths = views(svg)
    // Square views stand in the order of their size.
    const planFirst = svg.indexOf('Plan, seen') < svg.indexOf('Front, seen')
    const [first, second] = planFirst ? [wanted.plan, wanted.front] : [wanted.front, wanted.plan]
    expect(lengths.length).toBe(3)
    // Each line is drawn in six parts that run on under their neighbours by 0.06 mm: ten overlaps a line.
    const lines = SOLVED[0]!.route!.pieces.filter(p => p.kind === 'line').length
    for (const [found, w] of [
      [lengths[1]!, first],
      [lengths[2]!, second],
    ] as const) {
      expect(found).toBeGreaterThan(w - 0.01)
      expect(found).toBeLessThan(w + lines * 10 * 0.06 + 0.01)
      expect(w).toBeGreaterThan(40)
    }
  })

  test('every text is as wide as it was laid out, in whatever font it is shown', () => {
    const page = runDrawing(SAMPLE, SOLVED[0]!)
    const wanted = page.items.flatMap(i =>
      i.kind === 'text' ? [textWidth(i.text, i.size, i.bold).toFixed(2)] : [],
    )
    const widths = [...svg.matchAll(/<text [^>]*textLength="([\d.]+)" lengthAdjust="spacingAndGlyphs"/g)]
    expect(widths.map(m => Number(m[1]).toFixed(2))).toEqual(wanted)
    // Blanks count as laid out, too.
    expect(svg).toContain('xml:space="preserve"')
  })

  test('text of the user stays text, and no label lies on another', () => {
    const document: SkidDocument = { ...SAMPLE, runs: [{ ...SAMPLE.runs[0]!, tag: '<script>&"\u0001' }] }
    const solved = solveDocument(document)
    const out = text(exportCommand(document, solved, { to: 'svg', ...DATE }))
    expect(out).not.toMatch(/<script/)
    expect(out).toContain('&lt;script&gt;&amp;&quot;')
    for (const s of SOLVED) expect(overlappingTexts(runDrawing(SAMPLE, s).items)).toEqual([])
  })
})

/** Length of the sample's centre line seen along the axis that is left out, by 20,000 points. */
function flatLength(axes: readonly [number, number]): number {
  const { pieces } = SOLVED[0]!.route!
  // Both ports take 17 mm of tube.
  let sum = [pieces[0]!, pieces.at(-1)!].reduce(
    (all, p) => all + 17 * Math.hypot(...axes.map(k => p.direction[k]!)),
    0,
  )
  for (const p of pieces) {
    if (p.kind === 'line') {
      sum += Math.hypot(...axes.map(k => p.end[k]! - p.start[k]!))
      continue
    }
    const n = 20_000
    let before: number[] | null = null
    for (let i = 0; i <= n; i++) {
      const a = (p.angleRad * i) / n
      const here = axes.map(
        k =>
          p.centre[k]! +
          (p.start[k]! - p.centre[k]!) * Math.cos(a) +
          p.radius * p.direction[k]! * Math.sin(a),
      )
      if (before) sum += Math.hypot(here[0]! - before[0]!, here[1]! - before[1]!)
      before = here
    }
  }
  return sum
}

/** Drawn lengths of the centre line, one per view in the file's order: a view's paths come before its name. */
function views(svg: string): number[] {
  const out: number[] = []
  let sum = 0
  for (const l of svg.split('\n')) {
    sum += pathLength(/<path class="centre-line" d="([^"]+)"/.exec(l)?.[1] ?? '')
    if (!/<text[^>]*font-weight="bold"[^>]*>(Isometric|Plan|Front|Right)/.test(l)) continue
    out.push(sum)
    sum = 0
  }
  return out
}
function pathLength(d: string): number {
  const steps = [...d.matchAll(/([MLC])([-\d. ]+)/g)].map(
    m => [m[1], m[2]!.trim().split(/ /).map(Number)] as const,
  )
  let at = [0, 0]
  let sum = 0
  for (const [op, n] of steps) {
    if (op === 'L') sum += Math.hypot(n[0]! - at[0]!, n[1]! - at[1]!)
    if (op === 'C') {
      let before = at
      for (let i = 1; i <= 500; i++) {
        const t = i / 500
        const u = 1 - t
        const here = [0, 1].map(
          k => u ** 3 * at[k]! + 3 * u * u * t * n[k]! + 3 * u * t * t * n[2 + k]! + t ** 3 * n[4 + k]!,
        )
        sum += Math.hypot(here[0]! - before[0]!, here[1]! - before[1]!)
        before = here
      }
    }
    at = n.slice(-2)
  }
  return sum
}

test('every kind of export gives bytes, the same each time', () => {
  for (const to of EXPORTS) {
    const a = exportCommand(SAMPLE, SOLVED, { to, run: 'T-101', ...DATE })
    expect(a.length).toBeGreaterThan(50)
    expect(Buffer.compare(exportCommand(SAMPLE, SOLVED, { to, run: 'T-101', ...DATE }), a)).toBe(0)
  }
})

test('sheet and strip give PDF, the cut list its four forms', async () => {
  for (const pdf of [
    await sheetCommand(SAMPLE, SOLVED, { ...DATE, findings: null }),
    await sheetCommand(SAMPLE, SOLVED, { ...DATE, findings: null, run: 'T-103' }),
    await stripCommand(SAMPLE, SOLVED, { ...DATE, run: 'T-101' }),
  ])
    expect(text(pdf.subarray(0, 8))).toBe('%PDF-1.4')
  expect(JSON.parse(cutListCommand(SAMPLE, SOLVED, { format: 'json', findings: [] })).groups.length).toBe(2)
  expect(cutListCommand(SAMPLE, SOLVED, { findings: [] })).toMatch(
    /CUT LIST[\s\S]*bar 1[\s\S]*BILL OF MATERIAL\n {2}tube 12 × 1\.5 mm/,
  )
  expect(cutListCommand(SAMPLE, SOLVED, { format: 'csv', findings: [] })).toMatch(/^od mm,/)
  expect(cutListCommand(SAMPLE, SOLVED, { format: 'material', findings: [] })).toMatch(/^kind,item,/)
})

test('a wrong tag, a wrong kind and several runs for a file of one are refused by name', async () => {
  await expect(stripCommand(SAMPLE, SOLVED, { ...DATE, run: 'X' })).rejects.toThrow(
    /--run: found "X", wanted one of "T-101"/,
  )
  expect(() => exportCommand(SAMPLE, SOLVED, { ...DATE, to: 'exe' as ExportKind })).toThrow(
    /--to: found "exe"/,
  )
  expect(() => exportCommand(SAMPLE, SOLVED, { ...DATE, to: 'csv' })).toThrow(/found 3 runs, wanted one/)
})

test('SVG of all runs has the drawing of each, one under another, and says why one is not drawn', () => {
  const broken: SkidDocument = {
    ...SAMPLE,
    runs: [
      ...SAMPLE.runs,
      { ...SAMPLE.runs[2]!, id: 'x', tag: 'T-104', endA: { kind: 'free', at: [480, -200, 50] } },
    ],
  }
  const svg = text(exportCommand(broken, solveDocument(broken), { to: 'svg', ...DATE }))
  expect(svg).toContain(`height="${4 * 210}mm"`)
  const heads = [...svg.matchAll(/<text x="10" y="([\d.]+)"[^>]*font-weight="bold"[^>]*>(T-10\d)/g)]
  expect(heads.map(h => [Number(h[1]), h[2]])).toEqual([
    [14, 'T-101'],
    [224, 'T-102'],
    [434, 'T-103'],
    [644, 'T-104'],
  ])
  expect(svg).toMatch(/T-104 {3}not drawn: leg 1: found points 1 and 2/)
})
