import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { allFindings } from '../../src/checks/allFindings.ts'
import { decide, isOpen } from '../../src/checks/decisions.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import { inUnit, say, told } from '../../src/document/sentence.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { triangleTree } from '../../src/geometry/triangleTree.ts'
import { distance, dot, sub, unit } from '../../src/geometry/vec3.ts'
import { viewSquareTo } from '../../src/outputs/review/eye.ts'
import { GAP_WIDTH } from '../../src/outputs/review/gapDimension.ts'
import { gapPicture } from '../../src/outputs/review/gapPicture.ts'
import {
  listedFindings,
  type ReviewOptions,
  reviewPages,
  reviewPdf,
} from '../../src/outputs/review/reviewSheets.ts'
import { sceneOf } from '../../src/outputs/review/scene.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { type ClearancePair, clearances } from '../../src/skid/clearance.ts'
import { clearanceReport } from '../../src/skid/clearanceCommand.ts'
import { reachOfFindings } from '../../src/skid/clearanceFindings.ts'
import type { MeshBody } from '../../src/skid/parts.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { pdfText } from '../browser/pdfText.ts'
import { seeded } from '../random.ts'
import { pdfLines } from './pdfLines.ts'
import { rasterise } from './rasterise.ts'

const read = readDocument(
  readFileSync(new URL('../../sample-routes/thirty-runs.json', import.meta.url), 'utf8'),
)
if (!read.ok) throw new Error('the sample cannot be read')
const SAMPLE = read.document
const SOLVED = solveDocument(SAMPLE)
const FINDINGS = allFindings(SAMPLE, SOLVED)
const DATE = '2026-11-25T10:00:00'

const optionsOf = (document: SkidDocument, findings: readonly Finding[]): ReviewOptions => ({
  date: DATE,
  findings,
  pairs: clearances(document, solveDocument(document), { within: reachOfFindings(document) }),
})
const OPTIONS = optionsOf(SAMPLE, FINDINGS)
const gapsOf = (findings: readonly Finding[], pairs: readonly ClearancePair[]) =>
  listedFindings(decide(findings, []).decided, pairs).flatMap(l => (isOpen(l.item) && l.pair ? [l.pair] : []))

/** Of the lines between the nearest points, in the order of the pages: page and length on paper, mm. */
const drawnGaps = (pdf: Uint8Array) =>
  pdfLines(pdf)
    .lines.filter(l => Math.abs(l.width - GAP_WIDTH) < 1e-4)
    .map(l => ({ ...l, long: Math.hypot(l.x2 - l.x1, l.y2 - l.y1) }))

describe('the review report, read back from its PDF', () => {
  for (const paper of ['A4', 'A3', 'Letter'] as const)
    test(`${paper}: each gap is drawn at its scale within 0.01 mm of paper, no text lies on another`, async () => {
      const options = { ...OPTIONS, paper }
      const drawn = drawnGaps(await reviewPdf(SAMPLE, SOLVED, options))
      const gaps = gapsOf(FINDINGS, OPTIONS.pairs)
      expect(drawn.length).toBe(gaps.length)
      expect(gaps.length).toBeGreaterThan(1)
      const scene = sceneOf(SAMPLE, SOLVED, [])
      const texts = reviewPages(SAMPLE, SOLVED, options)
        .flatMap(p => p.items)
        .flatMap(i => (i.kind === 'text' ? [i.text] : []))
      gaps.forEach((pair, i) => {
        const picture = gapPicture(scene, pair, { x: 0, y: 0, w: 105, h: 60 }, 'x')!
        const [, up, down] = /(\d+):(\d+)$/.exec(texts.filter(t => /^seen from .*, \d+:\d+$/.test(t))[i]!)!
        const scale = Number(up) / Number(down)
        expect(picture.view).toMatch(/^seen from/)
        expect(Math.abs(drawn[i]!.long - distance(pair.pointA, pair.pointB) * scale)).toBeLessThan(0.01)
        // A gap's own figure is the distance of its points; here all are round sides and flat faces.
        expect(Math.abs(drawn[i]!.long / scale - Math.abs(pair.clearance))).toBeLessThan(0.02)
      })
      for (const page of reviewPages(SAMPLE, SOLVED, options))
        expect(overlappingTexts(page.items)).toEqual([])
    })

  test('the figure in the picture is the finding’s and that of the clearance command', async () => {
    const text = await pdfText(await reviewPdf(SAMPLE, SOLVED, OPTIONS))
    const { pairs } = clearanceReport(SAMPLE, SOLVED, 100)
    const open = FINDINGS.filter(f => ['clash', 'tooClose'].includes(f.rule))
    expect(open.length).toBe(2)
    for (const finding of open) {
      const pair = pairs.find(
        p => Math.abs(p.clearance - finding.measured!) < 1e-9 && finding.message.includes(p.a),
      )
      expect(pair).toBeDefined()
      const figure = Math.abs(pair!.clearance).toFixed(2)
      expect(text).toContain(`${pair!.clearance < 0 ? 'overlap' : 'gap'} ${figure} mm`)
    }
    for (const { finding } of decide(FINDINGS, []).decided.filter(isOpen))
      expect(text.replaceAll(/\s/g, '')).toContain(finding.message.slice(0, 12).replaceAll(/\s/g, ''))
  })

  test('there is ink in the picture, around the gap, as another engine draws it', async () => {
    const pdf = await reviewPdf(SAMPLE, SOLVED, OPTIONS)
    const pages = await rasterise(pdf, 100)
    for (const { page, x1, y1, x2, y2 } of drawnGaps(pdf)) {
      const { grey, width, perMm } = pages[page]!
      const at = [((x1 + x2) / 2) * perMm.x, ((y1 + y2) / 2) * perMm.y]
      let dark = 0
      const reach = Math.round(20 * perMm.x)
      for (let dy = -reach; dy <= reach; dy++)
        for (let dx = -reach; dx <= reach; dx++)
          if (grey[(Math.round(at[1]!) + dy) * width + Math.round(at[0]!) + dx]! < 128) dark++
      expect(dark).toBeGreaterThan(400)
    }
  })

  test('it says of every run whether its sheet would be released, and what it does not stand in for', () => {
    const said = (options: Partial<ReviewOptions>) =>
      reviewPages(SAMPLE, SOLVED, { ...OPTIONS, ...options })
        .flatMap(p => p.items.flatMap(i => (i.kind === 'text' ? [i.text] : [])))
        .join(' ')
        .replace(/\s+/g, ' ')
    const held = SAMPLE.runs.filter(r =>
      decide(
        FINDINGS.filter(f => f.where.run === r.id || f.where.other === r.id),
        SAMPLE.acceptances,
      ).decided.some(isOpen),
    )
    expect(held.length).toBeGreaterThan(1)
    expect(said({})).toContain(`NOT RELEASED, ${held.length} runs: ${held.map(r => r.tag).join(', ')}.`)
    expect(said({})).toContain('This does not cover pressure.')
    expect(said({ pending: 'clearance of 3 runs' })).toContain(`NOT RELEASED, ${SAMPLE.runs.length} runs`)
  })

  test('what was not run is named and never reads as good', async () => {
    const text = await pdfText(
      await reviewPdf(SAMPLE, SOLVED, { ...OPTIONS, findings: [], pending: 'still running' }),
    )
    expect(text).toContain('CHECK NOT FINISHED')
    expect(text).not.toContain('NO OPEN FINDINGS')
    const unrun: Finding = {
      id: 'clearance:notChecked:x',
      rule: 'clearanceNotChecked',
      severity: 'notChecked',
      where: { run: SAMPLE.runs[0]!.id, kind: 'run', index: null },
      measured: null,
      limit: null,
      unit: '',
      ...told(say`cannot be measured`),
    }
    const other = await pdfText(await reviewPdf(SAMPLE, SOLVED, { ...OPTIONS, findings: [unrun] }))
    expect(other).toContain('NOT FULLY CHECKED')
    expect(other).toContain(`${SAMPLE.runs[0]!.tag}: cannot be measured`)
    expect(other).toContain(`${SAMPLE.runs.length - 1} of ${SAMPLE.runs.length} runs against each other`)
    expect(await pdfText(await reviewPdf(SAMPLE, SOLVED, { ...OPTIONS, findings: [] }))).toContain(
      'NO OPEN FINDINGS',
    )
  })

  test('decisions, stale ones and viewpoints are in it, and the same input gives the same bytes', async () => {
    const accepted = FINDINGS.find(f => f.rule === 'tooClose')!
    const by = { by: 'R. Invented', on: '2026-11-20' }
    const document: SkidDocument = {
      ...SAMPLE,
      acceptances: [
        {
          finding: accepted.id,
          category: 'agreed',
          reason: 'never touched',
          ...by,
          measured: accepted.measured,
          limit: accepted.limit,
        },
        { finding: 'clash:gone', category: 'other', reason: 'was moved', ...by, measured: -1, limit: 0 },
      ],
      viewpoints: [
        {
          id: 'v',
          name: 'From the door',
          note: 'Valve cannot be reached',
          ...by,
          target: [700, 300, 1000],
          yaw: 300,
          pitch: 25,
          span: 1500,
          projection: 'perspective',
          section: null,
          hidden: [],
        },
      ],
    }
    const options = optionsOf(document, FINDINGS)
    const pdf = await reviewPdf(document, SOLVED, options)
    const text = await pdfText(pdf)
    for (const said of [
      'Accepted findings (1)',
      'never touched',
      'Stale acceptances (1)',
      'was moved',
      'From the door',
      'Valve cannot be reached',
    ])
      expect(text).toContain(said)
    expect(drawnGaps(pdf).length).toBe(1)
    expect(await reviewPdf(document, SOLVED, options)).toEqual(pdf)
  })

  test.each(['in', 'fraction'] as const)('in %s every finding is told in inches too', async unit => {
    const document = { ...SAMPLE, supportSpan: 300 }
    const findings = allFindings(document, SOLVED)
    const text = await pdfText(await reviewPdf(document, SOLVED, { ...optionsOf(document, findings), unit }))
    const plain = (said: string) => said.replaceAll(/[\s-]/g, '')
    expect(findings.some(f => f.rule === 'supportSpan')).toBe(true)
    for (const { sentence } of findings)
      expect(plain(text)).toContain(
        plain(inUnit(sentence, unit, { fractionOf: 64, inchDigits: 3 })).slice(0, 40),
      )
    expect(text).not.toMatch(/\d\smm\b/)
  })

  test('in inches the figures are inches', async () => {
    const text = await pdfText(await reviewPdf(SAMPLE, SOLVED, { ...OPTIONS, unit: 'in' }))
    const close = FINDINGS.find(f => f.rule === 'tooClose')!
    expect(text).toContain(`gap ${(close.measured! / 25.4).toFixed(3)} in`)
    expect(text).toContain(`are ${(close.measured! / 25.4).toFixed(3)} in apart`)
  })

  test('hundreds of findings: every gap with its picture, heads repeated, nothing overlaps', () => {
    const document: SkidDocument = {
      ...SAMPLE,
      clearances: { tube: 170, equipment: 170, structure: 170, fitting: 170, floor: 170, keepOut: 170 },
    }
    const findings = allFindings(document, SOLVED)
    const options = optionsOf(document, findings)
    const gaps = gapsOf(findings, options.pairs)
    expect(gaps.length).toBeGreaterThan(500)
    const pages = reviewPages(document, SOLVED, options)
    const texts = pages.flatMap(p => p.items.flatMap(i => (i.kind === 'text' ? [i.text] : [])))
    expect(texts.filter(t => /^(gap|overlap) [\d.]+ mm$/.test(t)).length).toBe(gaps.length)
    expect(texts.filter(t => t === 'Out by').length).toBeGreaterThan(gaps.length + 3)
    for (const page of pages) expect(overlappingTexts(page.items)).toEqual([])
  }, 60_000)
})

describe('the picture of a gap', () => {
  const SEED = 41
  test(`the view is square to any gap, its axes are unit and right-handed, seed ${SEED}`, () => {
    const random = seeded(SEED)
    const way = () => unit([random.next() - 0.5, random.next() - 0.5, random.next() - 0.5])!
    for (let i = 0; i < 300; i++) {
      const gap = way()
      const view = viewSquareTo(gap, [way(), way()])
      expect(Math.abs(dot(view.eye, gap))).toBeLessThan(1e-12)
      expect(dot(view.right, view.up)).toBeCloseTo(0, 12)
      expect(dot(sub([0, 0, 0], view.eye), view.right)).toBeCloseTo(0, 12)
      expect(Math.hypot(...view.up)).toBeCloseTo(1, 12)
      // The gap keeps its length in the picture.
      expect(Math.hypot(dot(gap, view.right), dot(gap, view.up))).toBeCloseTo(1, 12)
    }
  })

  test('a model’s part beside a tube is drawn where it stands on the skid', () => {
    // A flat wall of two triangles 300 × 300 at x = 0 of its own frame, put 20 mm beside a run's end.
    const run = SAMPLE.runs[0]!
    const route = SOLVED[0]!.route!
    const piece = route.pieces[0]!
    if (piece.kind !== 'line' || Math.abs(piece.direction[1]) > 1e-9)
      throw new Error('wanted a level straight')
    // On the side that the run turns away from.
    const side = route.points.at(-1)![1] > piece.start[1] ? -1 : 1
    const middle = piece.start.map((v, k) => (v + piece.end[k]!) / 2) as [number, number, number]
    const body: MeshBody = {
      id: 'm/wall',
      name: 'model: wall',
      kind: 'structure',
      fitting: null,
      tree: triangleTree([0, -150, -150, 0, 150, -150, 0, 150, 150, 0, -150, 150], [0, 1, 2, 0, 2, 3]),
      placement: { at: [middle[0], middle[1] + side * (run.tube.od / 2 + 20), middle[2]], turn: [0, 0, 90] },
    }
    const pairs = clearances(SAMPLE, SOLVED, { within: 30, meshes: [body] })
    const pair = pairs.find(p => p.aId === run.id && p.bId === body.id)!
    expect(Math.abs(pair.clearance - 20)).toBeLessThan(0.01)
    const picture = gapPicture(sceneOf(SAMPLE, SOLVED, [body]), pair, { x: 0, y: 0, w: 100, h: 60 }, 'gap')!
    const line = picture.items.find(i => i.kind === 'path' && i.width === GAP_WIDTH)
    if (line?.kind !== 'path') throw new Error('no gap is drawn')
    const [from, to] = line.steps as [readonly ['M', number, number], readonly ['L', number, number]]
    const long = Math.hypot(to[1] - from[1], to[2] - from[2])
    expect(Math.abs(long / picture.scale - pair.clearance)).toBeLessThan(0.01)
    expect(picture.notes).toEqual([])
  })
})
