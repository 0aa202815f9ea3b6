import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { layOut, orderFrom } from '../../src/bender/layOut.ts'
import type { Tooling } from '../../src/document/types.ts'
import type { Lead, OrderedBend } from '../../src/solve/bendOrder.ts'
import { madeWith } from '../../src/solve/making.ts'
import { seeded } from './random.ts'
import { lopsidedRun, madeRun, randomRun, shuffled } from './randomRun.ts'
import { misfit, type ReplayBench, type ReplayStep, replay } from './replay.ts'
import { sawn, wanted } from './wantedStraights.ts'

const SEED = 20240607
const RUNS = 10_000
/** Metres of tube in double precision leave 1e-10; anything wrong in a sign shows in millimetres. */
const WITHIN_MM = 1e-6

test(`10,000 random runs replay to the route, both hands, kinds and ends, any order (seed ${SEED})`, () => {
  const next = seeded(SEED)
  let worst = 0
  const seen = new Set<string>()
  for (let i = 0; i < RUNS; i++) {
    const bends = 1 + Math.floor(next() * 8)
    const { run, tooling } = randomRun(next, bends)
    const hand = next() < 0.5 ? 'left' : 'right'
    const kind = next() < 0.5 ? 'rotaryDraw' : 'compression'
    const way = Math.floor(next() * 3)
    const lead = (): Lead => (next() < 0.5 ? 'A' : 'B')
    const order: OrderedBend[] =
      way < 2
        ? orderFrom(way === 0 ? 'A' : 'B', bends)
        : shuffled(next, [...run.route!.bends.keys()]).map(bend => ({ bend, lead: lead() }))
    const stretch = run.route!.bends.map(b => (next() < 0.5 ? 0 : b.arcLength * 0.03 * next()))
    const cutLength = stretch.reduce((length, s) => length - s, run.cutLength!)
    const layout = layOut({ ...run, stretch, cutLength }, tooling, null, { hand, kind, order })
    seen.add(`${hand} ${kind} ${way}`)
    const tube = replay(
      layout.cutLength,
      { hand, kind, referenceOffset: tooling.referenceOffset },
      layout.steps,
    )
    const off = misfit(sawn(tube, order[0]!.lead, layout.trim), wanted(run))
    if (!(off <= WITHIN_MM))
      expect.fail(`run ${i}: off by ${off} mm (${hand}, ${kind}, order ${JSON.stringify(order)})`)
    worst = Math.max(worst, off)
  }
  expect(seen.size).toBe(12)
  expect(worst).toBeLessThanOrEqual(WITHIN_MM)
})

test.each(['A', 'B'] as const)('a turn the wrong way is caught with a lopsided route, %s first', lead => {
  const { run, tooling } = lopsidedRun()
  const bench: ReplayBench = { hand: 'left', kind: 'rotaryDraw', referenceOffset: tooling.referenceOffset }
  const layout = layOut(run, tooling, null, { ...bench, order: orderFrom(lead, 4) })
  const off = (steps: readonly ReplayStep[]) =>
    misfit(sawn(replay(layout.cutLength, bench, steps), lead, layout.trim), wanted(run))
  expect(off(layout.steps)).toBeLessThan(WITHIN_MM)
  const flipAll = layout.steps.map(s => ({ ...s, turn: s.turn === null ? null : -s.turn }))
  expect(off(flipAll)).toBeGreaterThan(10)
  for (const k of [1, 2, 3])
    expect(off(layout.steps.map((s, i) => (i === k ? { ...s, turn: -s.turn! } : s)))).toBeGreaterThan(10)
})

test('a bender of the other hand needs the same turns and makes the same tube', () => {
  const { run, tooling } = lopsidedRun()
  const steps = (hand: 'left' | 'right') =>
    layOut(run, tooling, null, { hand, kind: 'rotaryDraw', order: orderFrom('A', 4) }).steps
  expect(steps('right')).toEqual(steps('left'))
})

test('the simulator imports nothing', () => {
  const text = readFileSync(new URL('./replay.ts', import.meta.url), 'utf8')
  expect(text).not.toMatch(/\bimport\b\s*[{*('"]|\bfrom\s+['"]|\brequire\b/)
})

test('a die whose own radius is given, with springback and stretch, makes the run that was solved for it', () => {
  const { run: drawn, tooling } = lopsidedRun()
  const springback = { material: '316', offset: 1.5, perDegree: 0.02, range: null }
  const die: Tooling = { ...tooling, clrMeasured: 'die', stretchAt90: 1.7 }
  const run = madeRun(drawn, madeWith(die, springback))
  const layout = layOut(run, die, springback, { hand: 'left', kind: 'rotaryDraw', order: orderFrom('A', 4) })
  // What a drawn tube of the die's own radius has room for, it no longer has: the bends open.
  expect(run.route!.straights.every((s, i) => s < drawn.route!.straights[i]!)).toBe(true)
  const tube = replay(
    layout.cutLength,
    { hand: 'left', kind: 'rotaryDraw', referenceOffset: tooling.referenceOffset },
    layout.steps,
  )
  expect(misfit(sawn(tube, 'A', layout.trim), wanted(run))).toBeLessThan(WITHIN_MM)
})
