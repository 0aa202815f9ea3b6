import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { type BenchReport, benchReport, type ReportedRun } from '../../src/bender/benchCommand.ts'
import { checkBendOrder } from '../../src/bender/checkBendOrder.ts'
import { housingCheck } from '../../src/bender/housingCheck.ts'
import { isHalfTurn } from '../../src/bender/layOut.ts'
import { orderWords } from '../../src/bender/orderText.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { benchText } from '../../src/outputs/benchText.ts'
import { checkedOrder, sheetBendOrder } from '../../src/outputs/sheetBendOrder.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { BENDERS, benderNamed } from './benders.ts'
import { misfit, type P, replay } from './replay.ts'

const folder = new URL('../../sample-routes/', import.meta.url)
const SAMPLES = readdirSync(folder).filter(name => name.endsWith('.json'))
const sample = (name: string) => JSON.parse(readFileSync(new URL(name, folder), 'utf8')) as SkidDocument

const laidOut = (report: BenchReport): ReportedRun[] => report.runs.flatMap(r => ('problem' in r ? [] : [r]))

/** Plays the reported numbers and compares the tube with the run's route. */
function offRoute(document: SkidDocument, run: ReportedRun): number {
  const solved = solveDocument(document).find(s => s.tag === run.tag)!
  const tube = replay(run.cutLength, run, run.steps)
  const first = run.lead === 'A' ? tube.length - 1 : 0
  const wanted = solved
    .route!.pieces.filter(p => p.kind === 'line')
    .map((l, i, all) => {
      const by = (p: readonly number[], d: number): P => [0, 1, 2].map(c => p[c]! + l.direction[c]! * d) as P
      const trim = i === first ? run.trim : 0
      const [atA, atB] = run.lead === 'A' ? [0, trim] : [trim, 0]
      return {
        start: by(l.start, i === 0 ? -solved.insertionA - atA : 0),
        end: by(l.end, i === all.length - 1 ? solved.insertionB + atB : 0),
      }
    })
  return misfit(tube, wanted)
}

describe.each(SAMPLES)('%s', name => {
  test.each(['A', 'B', 'best'] as const)(
    'replays to its routes from the reported numbers, lead %s',
    lead => {
      const document = sample(name)
      // Overrun straights cannot be played: the stock would have to be bent twice in one place.
      for (const run of laidOut(benchReport(document, solveDocument(document), { lead, benders: BENDERS })))
        if (run.steps.every(s => s.hold === null)) expect(offRoute(document, run)).toBeLessThan(1e-6)
    },
    60_000,
  )
})

const placeOf = (turn: number | null) => (isHalfTurn(turn) ? 180 : turn)

test('every kind of bender makes the first sample with the same numbers but the dial', () => {
  const document = sample('two-bends.json')
  const solved = solveDocument(document)
  const runs = BENDERS.map(
    b => laidOut(benchReport(document, solved, { bender: b.id, benders: BENDERS }))[0]!,
  )
  expect(runs).toHaveLength(3)
  for (const run of runs) {
    // A half turn goes the way that is clearer on that bender.
    expect(run.steps.map(s => placeOf(s.turn))).toEqual(runs[0]!.steps.map(s => placeOf(s.turn)))
    expect(run.steps.map(s => s.start)).toEqual(runs[0]!.steps.map(s => s.start))
    expect(offRoute(document, run)).toBeLessThan(1e-6)
  }
})

test('the first sample hits the bench A first, and the best order clears it', () => {
  const document = sample('first-route.json')
  const solved = solveDocument(document)
  const run = (lead: 'A' | 'best') => laidOut(benchReport(document, solved, { lead }))[0]!
  const hit = run('A').findings[0]!
  expect(hit.rule).toBe('housingClash')
  expect(hit.message).toMatch(/making bend 3 at \d+\.\d°, straight 1 runs \d+\.\d mm into the bench top/)
  expect(run('A').steps[2]!.clearance).toMatchObject({ motion: 'bend', unit: 'deg', solid: 'bench top' })
  expect(run('best').findings).toEqual([])
  expect(run('best').blocked).toBeNull()
  expect(Math.min(...run('best').steps.map(s => s.clearance!.atLeast))).toBeGreaterThan(0)
})

test('the order proposed is the simplest that clears by the margin asked, the clearest beside it with its handling', () => {
  const document = sample('algae-manifold.json')
  const solved = solveDocument(document)
  const of = (margin?: number, benders = document.benders) =>
    laidOut(
      benchReport({ ...document, benders }, solved, {
        run: 'AF-101',
        lead: 'best',
        ...(margin === undefined ? {} : { margin }),
      }),
    )[0]!
  const usual = of()
  expect([usual.margin, usual.marginReached]).toEqual([10, true])
  expect(usual.order).toBe('A 1 3 4 2')
  expect(usual.handling).toEqual({ turnarounds: 0, takenOut: 1, stepsBack: 1 })
  expect(usual.steps.map(s => s.bend + 1)).toEqual([1, 3, 4, 2])
  expect(usual.clearest!.atLeast!).toBeGreaterThanOrEqual(usual.atLeast!)
  // More than any order clears by: the clearest is what is left, and it says so.
  const more = of(40)
  expect([more.margin, more.marginReached]).toEqual([40, false])
  expect(more.order).toBe(more.clearest!.order)
  expect(more.blocked).toBeNull()
  // The bender's own margin counts where none is asked for, and not where one is.
  const strict = document.benders.map(b => ({ ...b, margin: 40 }))
  expect([of(undefined, strict).margin, of(5, strict).margin]).toEqual([40, 5])
  const text = benchText({ runs: [usual] }, () => ({
    release: { text: 'x', detail: '', good: true, held: false },
    decided: [],
    cautions: [],
  }))
  expect(text).toContain(
    'order A 1 3 4 2: least handling of all orders that clear by 10; taken out once, back along the tube once',
  )
})

test('check, sheet, bench and bending view propose one and the same order', () => {
  const document = sample('dense-skid.json')
  const solved = solveDocument(document).slice(0, 12)
  let mixed = 0
  for (const run of solved) {
    const findings = housingCheck(document, run)
    if (findings.some(f => f.severity !== 'note')) continue
    const checked = checkedOrder(run, findings)
    const [best] = laidOut(benchReport(document, [run], { run: run.tag, lead: 'best' }))
    expect(best!.order).toBe(orderWords(checked))
    expect(sheetBendOrder(document, run, findings).order).toEqual(checked)
    expect(checkBendOrder(document, run, 'best').order).toEqual(checked)
    if (checked.some((o, i) => i > 0 && o.bend < checked[i - 1]!.bend)) mixed++
  }
  expect(mixed).toBeGreaterThan(0)
}, 60_000)

test('a bender without solids is not checked, which is a finding and not a clear', () => {
  const document = sample('two-bends.json')
  const bare = { ...benderNamed('bench-left'), id: 'bare', housing: [], arm: [], benchTop: null }
  const report = benchReport(document, solveDocument(document), { bender: 'bare', benders: [bare] })
  const run = laidOut(report)[0]!
  expect(run.steps.every(s => s.clearance === null)).toBe(true)
  expect(run.findings.map(f => [f.rule, f.severity])).toEqual([['housingNotChecked', 'notChecked']])
  const best = benchReport(document, solveDocument(document), {
    bender: 'bare',
    benders: [bare],
    lead: 'best',
  })
  expect(laidOut(best)[0]!.marginReached, 'a margin that nobody measured').toBe(null)
})

test('an unknown run, an unknown bender and a missing die say what was found and what is wanted', () => {
  const document = sample('two-bends.json')
  const solved = solveDocument(document)
  expect(() => benchReport(document, solved, { run: 'X-9' })).toThrow(/"X-9", wanted one of/)
  const tag = solved[0]!.tag
  expect(() => benchReport(document, solved, { run: tag, bender: 'none' })).toThrow(/bender: found "none"/)
  const odd = { ...document, runs: document.runs.map(r => ({ ...r, clr: 77 })) }
  expect(() => benchReport(odd, solveDocument(odd), { run: tag })).toThrow(/with CLR 77 mm/)
  const all = benchReport(odd, solveDocument(odd), {})
  expect('problem' in all.runs[0]!).toBe(true)
})

test('every motion is reported, the swing back with the angle where the arm stands; not when the tube comes out first', () => {
  const document = sample('two-bends.json')
  const solved = solveDocument(document)
  const [run] = laidOut(benchReport(document, solved))
  for (const step of run!.steps) {
    expect(step.motions.slice(-3).map(m => m.motion)).toEqual(['bend', 'armBack', 'takeOut'])
    const back = step.motions.find(m => m.motion === 'armBack')!
    expect(back.unit).toBe('deg')
    expect(back.at).toBeGreaterThanOrEqual(0)
    expect(back.at).toBeLessThanOrEqual(step.dial!)
    expect(['clamp arm', 'clamp block', 'follower arm', 'follower roller']).toContain(back.solid)
    expect(step.clearance!.atLeast).toBe(Math.min(...step.motions.map(m => m.atLeast)))
  }
  const opens = { ...document, benders: document.benders.map(b => ({ ...b, tubeOutFirst: true })) }
  const [other] = laidOut(benchReport(opens, solved))
  expect([run!.tubeOutFirst, other!.tubeOutFirst]).toEqual([false, true])
  expect(other!.steps.map(s => s.motions.map(m => m.motion))).toEqual([
    ['slide', 'bend', 'takeOut'],
    ['putIn', 'bend', 'takeOut'],
  ])
})
