import { describe, expect, test } from 'vitest'
import { benchSetup } from '../../src/bender/housing.ts'
import { housingCheck } from '../../src/bender/housingCheck.ts'
import { isHalfTurn, layOut, orderFrom, turnBetween } from '../../src/bender/layOut.ts'
import { orderMark, readOrderMark } from '../../src/bender/orderMark.ts'
import { judgeOrder, searchOrder } from '../../src/bender/orderSearch.ts'
import { orderWords, readOrder } from '../../src/bender/orderText.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { DEG, turnAbout, type Vec3 } from '../../src/geometry/vec3.ts'
import { turnWords, wayOfTurn } from '../../src/outputs/turnWords.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { benderNamed, equipmentFor } from './benders.ts'
import { seeded } from './random.ts'
import { runFromRows } from './randomRun.ts'

const SEED = 2310

/** Rows whose rotations are half turns, none, and others, as a flat or stepped run has them. */
function flatRows(next: () => number, bends: number, od: number) {
  return {
    straights: Array.from({ length: bends + 1 }, () => 3.5 * od + 180 * next()),
    bends: Array.from({ length: bends }, (_, k) => ({
      angle: 30 + 90 * next(),
      rotation: k === 0 ? null : next() < 0.6 ? 180 : next() < 0.5 ? 0 : 90,
    })),
  }
}

/** The same tube somewhere else on a skid: turned about the upright, moved, and under other names. */
function onSkid(points: readonly Vec3[], about: number, by: Vec3, name: string): [SkidDocument, Run] {
  // A right-hand bender leaves the leg on the right, from where clockwise goes down past the bench.
  const bender = benderNamed('bench-right')
  const at = points
    .map(p => turnAbout(p, [0, 0, 0], [0, 0, 1], about * DEG))
    .map((p): Vec3 => [p[0] + by[0], p[1] + by[1], p[2] + by[2]])
  const run: Run = {
    id: `${name}-id`,
    tag: name,
    service: '',
    tube: { catalogueId: null, od: 12, wall: 1.5, material: '316' },
    clr: 36,
    bender: bender.id,
    endA: { kind: 'free', at: at[0]! },
    vertices: at.slice(1, -1).map((p, i) => ({ id: `v${i}`, at: p })),
    endB: { kind: 'free', at: at.at(-1)! },
    trimAllowance: 0,
    insulation: 0,
    quantity: 1,
  }
  return [{ ...emptyDocument(name), benders: [bender], runs: [run] }, run]
}

test(`a skid turned about the upright, moved and renamed has the same findings of the bender, half turns included (seed ${SEED})`, () => {
  const next = seeded(SEED)
  let counter = 0
  for (let n = 0; n < 40; n++) {
    const points = rowsToPoints(flatRows(next, next() < 0.7 ? 2 : 3, 12), 36, PLAIN_FRAME)
    const said = [
      onSkid(points, 0, [0, 0, 0], 'one'),
      onSkid(points, 360 * next(), [3000 * next(), -2000 * next(), 5000 * next()], 'other'),
      onSkid(points, 90, [12.5, 1e4, -77.125], 'third'),
    ].map(([document, run]) =>
      housingCheck(document, solveRun(document, run)).map(f => ({
        id: f.id.replaceAll(run.id, 'run'),
        message: f.message,
        order: f.order ?? null,
      })),
    )
    expect(said[1]).toEqual(said[0])
    expect(said[2]).toEqual(said[0])
    if (said[0]!.some(f => f.order?.some(o => o.way === 'counter-clockwise'))) counter++
  }
  // The scenes are such that the way matters.
  expect(counter).toBeGreaterThan(2)
}, 120_000)

test(`of the two ways of every half turn the clearer is taken, whatever the others do (seed ${SEED + 1})`, () => {
  const next = seeded(SEED + 1)
  const bender = benderNamed('bench-left')
  const { tooling, springback } = equipmentFor(bender, 12)
  let [halves, differ] = [0, 0]
  for (let n = 0; n < 20; n++) {
    const run = runFromRows(flatRows(next, 3, 12), 36, { insertionA: 0, insertionB: 0, trim: 0 })
    const lead = next() < 0.5 ? 'A' : 'B'
    const setup = benchSetup(run, bender, tooling, springback, { trimAt: lead === 'A' ? 'B' : 'A' })
    const order = orderFrom(lead, 3)
    const both = (way: OrderedBend['way'] & string) =>
      judgeOrder(
        setup,
        order.map(o => ({ ...o, way })),
      )
    const [cw, ccw, taken] = [
      both('clockwise'),
      both('counter-clockwise'),
      judgeOrder(setup, order, 'clearer'),
    ]
    const layout = layOut(run, tooling, springback, { hand: 'left', kind: 'rotaryDraw', order: taken.order })
    layout.steps.forEach((step, i) => {
      if (!isHalfTurn(step.turn)) {
        expect(taken.order[i]!.way).toBeUndefined()
        return
      }
      halves++
      const turn = (of: typeof cw) => of.steps[i]!.motions.find(m => m.motion === 'turn')!
      const figures = [turn(cw).atLeast!, turn(ccw).atLeast!]
      if (Math.abs(figures[0]! - figures[1]!) > 0.2) differ++
      expect(turn(taken).atLeast!).toBeGreaterThan(Math.max(...figures) - 0.2)
      const counter = taken.order[i]!.way === 'counter-clockwise'
      expect(counter).toBe(figures[1]! > figures[0]! + 0.1)
      // Swept, laid out and said is the same way.
      expect(Math.sign(turn(taken).to)).toBe(counter ? -1 : 1)
      expect(step.turn).toBeCloseTo(counter ? -180 : 180, 9)
      expect(turnWords(step.turn)).toBe(counter ? '180° counter-clockwise' : '180° clockwise')
      expect(wayOfTurn(step.turn)).toBe(counter ? -1 : 1)
    })
  }
  expect(halves).toBeGreaterThan(15)
  expect(differ).toBeGreaterThan(3)
}, 120_000)

describe('the way of a half turn', () => {
  const a: OrderedBend = { bend: 0, lead: 'A' }
  const b = (way?: OrderedBend['way']): OrderedBend => ({ bend: 1, lead: 'A', ...(way ? { way } : {}) })

  test('is clockwise when nothing is said, whichever side of 180° rounding leaves the rotation on', () => {
    for (const rotation of [180, 179.97, -179.97, 180 - 1e-13, -180 + 1e-13]) {
      expect(turnBetween([0, rotation], a, b())).toBeGreaterThan(179.9)
      expect(turnBetween([0, rotation], a, b('clockwise'))).toBeGreaterThan(179.9)
      expect(turnBetween([0, rotation], a, b('counter-clockwise'))).toBeLessThan(-179.9)
    }
    // The tube comes to lie where it has to: to the last digit the rotation's own place.
    expect(turnBetween([0, -179.97], a, b())).toBeCloseTo(180.03, 9)
    expect(turnBetween([0, 179.97], a, b('counter-clockwise'))).toBeCloseTo(-180.03, 9)
  })

  test('is not asked of any other turn, and a turn of rounding is none', () => {
    expect(turnBetween([0, 179.9], a, b('counter-clockwise'))).toBe(179.9)
    expect(turnBetween([0, -90], a, b('clockwise'))).toBe(-90)
    expect(turnBetween([0, 1e-14], a, b())).toBe(0)
    expect(turnBetween([720, 720 - 4e-13], a, b())).toBe(0)
  })

  test('stands in the code of an order; codes without one read as before', () => {
    const order = [a, b('counter-clockwise'), { bend: 2, lead: 'B' } as const]
    expect(orderMark(order)).toBe('1A2AC3B')
    expect(readOrderMark('1A2AC3B', 3)).toEqual(order)
    expect(readOrderMark('1A2A3B', 3)).toEqual([a, b(), { bend: 2, lead: 'B' }])
    expect(readOrderMark('', 2)).toEqual(orderFrom('A', 2))
    expect(readOrderMark('B', 2)).toEqual(orderFrom('B', 2))
    expect(orderMark([a, b('clockwise')])).toBe('')
    for (const wrong of ['C', '1C2A', '1A1A', '1A2ACC', 'BC']) expect(readOrderMark(wrong, 2)).toBeNull()
  })

  test('is typed after its bend, and written so', () => {
    expect(readOrder('A 1 2 ccw', 2)).toEqual([a, b('counter-clockwise')])
    expect(readOrder('1A 2A CW', 2)).toEqual([a, b('clockwise')])
    expect(orderWords([a, b('counter-clockwise')])).toBe('A 1 2 CCW')
    expect(readOrder(orderWords([a, b('counter-clockwise')]), 2)).toEqual([a, b('counter-clockwise')])
    expect(readOrder('ccw 1 2', 2)).toMatch(/comes before every bend/)
  })

  test('is part of the order that the search proposes', () => {
    const next = seeded(SEED + 1)
    const bender = benderNamed('bench-right')
    const { tooling, springback } = equipmentFor(bender, 12)
    let ways = 0
    for (let n = 0; n < 30; n++) {
      const run = runFromRows(flatRows(next, 2, 12), 36, { insertionA: 0, insertionB: 0, trim: 0 })
      const { best } = searchOrder(benchSetup(run, bender, tooling, springback, { trimAt: 'B' }))
      expect(best.order.map(o => o.way)).toEqual(best.steps.map(s => s.step.way))
      if (best.order.some(o => o.way === 'counter-clockwise')) ways++
    }
    expect(ways).toBeGreaterThan(0)
  }, 60_000)
})
