import { describe, expect, test } from 'vitest'
import { compareVersions } from '../../src/checks/compareVersions.ts'
import { movePoint, removeRun } from '../../src/document/edits.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { dot, type Vec3 } from '../../src/geometry/vec3.ts'
import { namesOfBoth } from '../../src/outputs/compareText.ts'
import type { PaperItem, PathItem } from '../../src/outputs/paper.ts'
import type { Version } from '../../src/outputs/review/changeSpot.ts'
import { changesUnits } from '../../src/outputs/review/changes.ts'
import { dashedTube } from '../../src/outputs/review/dashedTube.ts'
import { viewFrom } from '../../src/outputs/review/eye.ts'
import { GAP_WIDTH } from '../../src/outputs/review/gapDimension.ts'
import { figuresIn } from '../../src/outputs/review/names.ts'
import { reviewPages } from '../../src/outputs/review/reviewSheets.ts'
import { sceneOf } from '../../src/outputs/review/scene.ts'
import { placePicture, wholePicture } from '../../src/outputs/review/versionPicture.ts'
import { overlappingTexts } from '../../src/outputs/sheetFlow.ts'
import { type Frame, onPaper, PLAN } from '../../src/outputs/views.ts'
import { solveDocument, solveRun } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'
import { SAMPLE } from './sampleDocument.ts'

const run = SAMPLE.runs[0]!
const box = { x: 0, y: 0, w: 100, h: 46 }
const SCENE = sceneOf(SAMPLE, solveDocument(SAMPLE), [])
function versionOf(document: SkidDocument, of: Run = document.runs[0]!): Version {
  const { route } = solveRun(document, of)
  if (!route) throw new Error('no route')
  return { route, od: of.tube.od }
}
const IS = versionOf(SAMPLE)
const paths = (items: readonly PaperItem[]) => items.filter((i): i is PathItem => i.kind === 'path')
const dashed = (items: readonly PaperItem[]) => paths(items).filter(p => p.dash?.length === 2)
const pointsOf = (path: PathItem) => path.steps.flatMap(s => (s.length === 3 ? [[s[1], s[2]] as const] : []))

const earlierWith = (over: Partial<Run>) => versionOf(SAMPLE, { ...run, ...over })
const vertex = run.vertices[1]!
const [x, y, z] = vertex.at
const MOVED = movePoint(SAMPLE, run.id, vertex.id, [x + 15, y, z + 20])
const moveOf = (before: SkidDocument, after: SkidDocument) =>
  compareVersions(before, after, null).moves.get(run.id)!

describe('the dashed outline of a tube that is no more', () => {
  const random = seeded(71)
  test('its two sides lie half the diameter off the centre line, from any side (seed 71)', () => {
    for (let k = 0; k < 40; k++) {
      const eye = random.direction()
      const frame: Frame = { view: viewFrom(eye, ''), scale: 0.5, x: 0, y: 0 }
      for (const piece of IS.route.pieces) {
        if (piece.kind === 'arc' && Math.abs(dot(piece.normal, eye)) < 0.5) continue
        const long = piece.to - piece.from
        const half = (IS.od * frame.scale) / 2
        const sides = dashedTube([piece], IS.od, frame, box)
        // A straight seen end-on has no sides.
        if (piece.kind === 'line' && Math.abs(dot(piece.direction, eye)) > 0.98) continue
        expect(sides.length).toBe(2)
        const seen = Array.from({ length: 721 }, (_, i) => onPaper(frame, at(piece, (long * i) / 720)))
        for (const p of sides.flatMap(pointsOf)) {
          const off = Math.min(...seen.map(q => Math.hypot(p[0] - q[0], p[1] - q[1])))
          expect(Math.abs(off - half)).toBeLessThan(0.02)
        }
      }
    }
  })
  test('too narrow for two lines it is one along the middle', () => {
    const frame: Frame = { view: PLAN, scale: 0.02, x: 0, y: 0 }
    expect(dashedTube(IS.route.pieces, IS.od, frame, box)).toHaveLength(1)
  })
})

/** A point of a piece by its own definition: not the code under test. */
function at(piece: Version['route']['pieces'][number], along: number): Vec3 {
  const add = (a: Vec3, b: Vec3, f: number): Vec3 => [a[0] + b[0] * f, a[1] + b[1] * f, a[2] + b[2] * f]
  if (piece.kind === 'line') return add(piece.start, piece.direction, along)
  const out = add(piece.start, piece.centre, -1)
  const a = along / piece.radius
  return add(add(piece.centre, out, Math.cos(a)), piece.direction, piece.radius * Math.sin(a))
}

describe('pictures of a changed run', () => {
  test('the place of the largest move: its dimension is the move at the scale said, seen square; both tubes are there', () => {
    // A plane route is seen square to its plane or along it, so the move in it is seen in true length.
    const flat = (by: number): SkidDocument => ({
      ...SAMPLE,
      runs: [
        {
          ...run,
          endA: { kind: 'free', at: [0, 0, 500] },
          vertices: [
            { id: 'a', at: [200, 0, 500] },
            { id: 'b', at: [350, 200 + by, 500] },
          ],
          endB: { kind: 'free', at: [700, 200 + by, 500] },
        },
      ],
    })
    const [before, after] = [flat(0), flat(25)]
    const move = moveOf(before, after)
    const found = placePicture(
      sceneOf(after, solveDocument(after), []),
      run.id,
      versionOf(before),
      versionOf(after),
      { move, figure: '25.00 mm' },
      box,
    )!
    const [, up, down] = /(\d+):(\d+)$/.exec(found.view)!
    const line = paths(found.items).find(p => Math.abs((p.width ?? 0) - GAP_WIDTH) < 1e-9)!
    const [a, b] = pointsOf(line)
    const long = Math.hypot(b![0] - a![0], b![1] - a![1])
    expect(long).toBeCloseTo((move.by * Number(up)) / Number(down), 6)
    expect(move.by).toBe(25)
    expect(dashed(found.items)).toHaveLength(2)
    expect(found.items.some(i => i.kind === 'text' && i.text === '25.00 mm')).toBe(true)
  })

  test('a move in space is shown, by at least half its length, in both pictures (seed 72)', () => {
    const random = seeded(72)
    for (let k = 0; k < 25; k++) {
      const by: Vec3 = [random.between(-20, 20), random.between(-20, 20), random.between(-20, 20)]
      const after = movePoint(SAMPLE, run.id, vertex.id, [x + by[0], y + by[1], z + by[2]])
      const move = moveOf(SAMPLE, after)
      const was = versionOf(SAMPLE)
      const is = versionOf(after)
      const close = placePicture(SCENE, run.id, was, is, { move, figure: 'x' }, box)!
      const [, up, down] = /(\d+):(\d+)$/.exec(close.view)!
      const line = paths(close.items).find(p => Math.abs((p.width ?? 0) - GAP_WIDTH) < 1e-9)!
      const [a, b] = pointsOf(line)
      const share = Math.hypot(b![0] - a![0], b![1] - a![1]) / ((move.by * Number(up)) / Number(down))
      expect(share, `move ${by}`).toBeGreaterThan(0.5)
      expect(share).toBeLessThan(1 + 1e-6)
      expect(dashed(wholePicture(was, is, move, box).items).length).toBeGreaterThan(0)
    }
  })

  test('another radius or diameter, and bends that came or went, have a picture, another tag, service or bender none', () => {
    const close = (was: Version) => placePicture(SCENE, run.id, was, IS, null, box)
    expect(dashed(close(earlierWith({ clr: run.clr + 9 }))!.items).length).toBe(2)
    expect(close(earlierWith({ tube: { ...run.tube, od: 10 } }))!.view).toMatch(/:\d+$/)
    const bent = earlierWith({ endB: { kind: 'free', at: [900, 0, 500] } })
    const straight = earlierWith({ endB: { kind: 'free', at: [900, 0, 500] }, vertices: [] })
    expect(placePicture(SCENE, run.id, bent, straight, null, box)).not.toBeNull()
    expect(placePicture(SCENE, run.id, straight, bent, null, box)).not.toBeNull()
    expect(close(earlierWith({ tag: 'X', service: 'other', bender: null }))).toBeNull()
  })

  test('all of a run is inside its picture, with its ends named', () => {
    const { items } = wholePicture(versionOf(SAMPLE), versionOf(MOVED), moveOf(SAMPLE, MOVED), box)
    for (const [px, py] of paths(items).flatMap(pointsOf)) {
      expect(px).toBeGreaterThanOrEqual(-1e-9)
      expect(px).toBeLessThanOrEqual(box.w + 1e-9)
      expect(py).toBeGreaterThanOrEqual(-1e-9)
      expect(py).toBeLessThanOrEqual(box.h + 1e-9)
    }
    expect(items.flatMap(i => (i.kind === 'text' ? [i.text] : []))).toEqual(['A', 'B'])
  })
})

describe('the changes in the report', () => {
  const other = { ...run, id: 'r9', tag: 'AE-9' }
  const before = { ...SAMPLE, runs: [...SAMPLE.runs, other] }
  const after = {
    ...removeRun(MOVED, SAMPLE.runs[1]!.id),
    name: SAMPLE.name,
  }
  const found = compareVersions(
    before,
    { ...after, runs: [...after.runs, { ...run, id: 'n', tag: 'AE-N' }] },
    null,
  )
  const now = { ...after, runs: [...after.runs, { ...run, id: 'n', tag: 'AE-N' }] }
  for (const paper of ['A4', 'A3', 'Letter'] as const)
    test(`${paper}: a picture of every run that is not what it was; no text lies on another`, () => {
      const solved = solveDocument(now)
      const pages = reviewPages(now, solved, {
        paper,
        date: '2026-11-25T10:00:00',
        findings: [],
        pairs: [],
        changes: (w, scene) =>
          changesUnits(
            found,
            { title: 'was.json', name: namesOfBoth(before, now), document: before, now },
            figuresIn('mm'),
            w,
            scene,
          ),
      })
      const texts = pages.flatMap(p => p.items).flatMap(i => (i.kind === 'text' ? [i.text] : []))
      expect(texts).toContain('Pictures of changed runs (4)')
      expect(texts).toContain(`${run.tag}: point 3 moved 25.00 mm`)
      for (const title of ['AE-N: added', 'AE-9: removed', `${SAMPLE.runs[1]!.tag}: removed`])
        expect(texts).toContain(title)
      for (const page of pages) expect(overlappingTexts(page.items)).toEqual([])
    })
})
