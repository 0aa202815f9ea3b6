import { describe, expect, it } from 'vitest'
import { benchSetup, sidesAt } from '../../src/bender/housing.ts'
import { layOut, orderFrom, stockOf } from '../../src/bender/layOut.ts'
import { slidesOn } from '../../src/bender/slidesOn.ts'
import { putInAnew, slideOf, type TubeMotion, tubeAtDie } from '../../src/bender/tubeAtDie.ts'
import { knownBender } from '../../src/document/knownBenders.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import type { Piece } from '../../src/solve/types.ts'
import { seeded } from './random.ts'
import { lopsidedRun, randomRun, shuffled } from './randomRun.ts'
import { misfit, type P } from './replay.ts'

const NO_SPRINGBACK = { material: 'x', offset: 0, perDegree: 0, range: null }
const straightsOf = (pieces: readonly Piece[]) =>
  pieces.filter(p => p.kind === 'line').map(p => ({ start: [...p.start] as P, end: [...p.end] as P }))

const reversed = (lines: { start: P; end: P }[]) =>
  lines.toReversed().map(l => ({ start: l.end, end: l.start }))

describe('the tube at the die', () => {
  const seed = 20261
  it(`is the route, right-handed, once the last bend is at its angle (seed ${seed})`, () => {
    const next = seeded(seed)
    for (let n = 0; n < 400; n++) {
      const { run, tooling } = randomRun(next, 1 + Math.floor(next() * 6))
      const route = run.route!
      const lead = next() < 0.5 ? 'A' : 'B'
      const order =
        next() < 0.5
          ? orderFrom(lead, route.bends.length)
          : shuffled(next, orderFrom('A', route.bends.length)).map(o => ({
              ...o,
              lead: next() < 0.5 ? ('A' as const) : ('B' as const),
            }))
      const layout = layOut(run, tooling, NO_SPRINGBACK, {
        hand: next() < 0.5 ? 'left' : 'right',
        kind: next() < 0.5 ? 'rotaryDraw' : 'compression',
        order,
      })
      const stock = stockOf(run)
      const { pieces } = tubeAtDie(layout, stock, layout.steps.length - 1, 'bend', 1)
      const lines = straightsOf(pieces)
      const fromA = layout.steps.at(-1)!.lead === 'A' ? lines : reversed(lines)
      const wanted = route.pieces.filter(p => p.kind === 'line')
      const trimAtA = layout.steps[0]!.lead === 'B' ? stock.trim : 0
      const want = wanted.map((p, i) => {
        const before = i === 0 ? run.insertionA + trimAtA : 0
        const after = i === wanted.length - 1 ? run.insertionB + stock.trim - trimAtA : 0
        const along = (q: Vec3, by: number): P => [0, 1, 2].map(j => q[j]! + p.direction[j]! * by) as P
        return { start: along(p.start, -before), end: along(p.end, after) }
      })
      expect(misfit(fromA, want)).toBeLessThan(1e-6)
    }
  })

  it(`keeps its length and stays in one piece through every motion (seed ${seed + 1})`, () => {
    const next = seeded(seed + 1)
    for (let n = 0; n < 60; n++) {
      const { run, tooling } = randomRun(next, 1 + Math.floor(next() * 5))
      const layout = layOut(run, tooling, NO_SPRINGBACK, {
        hand: 'left',
        kind: next() < 0.5 ? 'rotaryDraw' : 'compression',
        order: orderFrom(next() < 0.5 ? 'A' : 'B', run.route!.bends.length),
      })
      const stock = stockOf(run)
      layout.steps.forEach((_, i) => {
        for (const motion of ['slide', 'turn', 'bend'] as const)
          for (const fraction of [0, 0.3, 1]) {
            const { pieces } = tubeAtDie(layout, stock, i, motion, fraction, 80)
            expect(pieces.at(-1)!.to).toBeCloseTo(layout.cutLength, 6)
            pieces.slice(1).forEach((p, k) => {
              expect(distance(pieces[k]!.end, p.start)).toBeLessThan(1e-7)
            })
          }
      })
    }
  })

  it(`lies in the bench as a tube does after 150 bends: arcs of their radius, directions of length 1 (seed ${seed + 9})`, () => {
    const next = seeded(seed + 9)
    const { run, tooling } = randomRun(next, 150, 10)
    const layout = layOut(run, tooling, NO_SPRINGBACK, {
      hand: 'left',
      kind: 'rotaryDraw',
      order: orderFrom('A', 150),
    })
    const { pieces } = tubeAtDie(layout, stockOf(run), 149, 'bend', 1)
    expect(pieces.filter(p => p.kind === 'arc')).toHaveLength(150)
    for (const p of pieces) {
      expect(Math.hypot(...p.direction)).toBeCloseTo(1, 9)
      if (p.kind === 'arc') {
        expect(distance(p.start, p.centre)).toBeCloseTo(p.radius, 8)
        expect(distance(p.end, p.centre)).toBeCloseTo(p.radius, 8)
      }
    }
  })

  it('hands over from one motion to the next without a jump', () => {
    const { run, tooling } = lopsidedRun()
    const layout = layOut(run, tooling, NO_SPRINGBACK, {
      hand: 'right',
      kind: 'rotaryDraw',
      order: orderFrom('A', 4),
    })
    const stock = stockOf(run)
    const ends = (i: number, motion: 'slide' | 'turn' | 'bend', f: number) => {
      const { pieces } = tubeAtDie(layout, stock, i, motion, f)
      return [pieces[0]!.start, pieces.at(-1)!.end] as const
    }
    for (let i = 1; i < 4; i++) {
      const joints = [
        [ends(i - 1, 'bend', 1), ends(i, 'slide', 0)],
        [ends(i, 'slide', 1), ends(i, 'turn', 0)],
        [ends(i, 'turn', 1), ends(i, 'bend', 0)],
      ] as const
      for (const [before, after] of joints) {
        expect(distance(before[0], after[0])).toBeLessThan(1e-6)
        expect(distance(before[1], after[1])).toBeLessThan(1e-6)
      }
    }
    expect(slideOf(layout, 0)).toBeCloseTo(layout.steps[0]!.start, 12)
  })

  it('springs back with the arm to its wanted angle and lies there until it is lifted out', () => {
    const springback = { material: 'x', offset: 1.5, perDegree: 0.03, range: null }
    const { run, tooling } = lopsidedRun()
    for (const hand of ['left', 'right'] as const)
      for (const kind of ['rotaryDraw', 'compression'] as const)
        for (const tubeOutFirst of [false, true]) {
          const order = orderFrom('A', 4)
          const layout = layOut(run, tooling, springback, { hand, kind, order, tubeOutFirst })
          const stock = stockOf(run)
          layout.steps.forEach((step, i) => {
            const at = (motion: 'bend' | 'armBack' | 'takeOut', f: number) => {
              const { pieces, dieAngle } = tubeAtDie(layout, stock, i, motion, f)
              return { ends: [pieces[0]!.start, pieces.at(-1)!.end] as const, dieAngle }
            }
            const apart = (a: ReturnType<typeof at>, b: ReturnType<typeof at>) =>
              Math.max(...[0, 1].map(k => distance(a.ends[k]!, b.ends[k]!)))
            const dial = step.dial!
            const leaves = at('armBack', 1 - step.angle / dial)
            expect(apart(at('bend', 1), at('armBack', 0))).toBeLessThan(1e-9)
            expect(at('armBack', 0).dieAngle).toBeCloseTo(dial, 12)
            expect(apart(leaves, at('armBack', 0))).toBeGreaterThan(0.1)
            expect(apart(leaves, at('armBack', 1))).toBeLessThan(1e-9)
            expect(apart(at('armBack', 1), at('takeOut', 0))).toBeLessThan(1e-9)
            expect(at('armBack', 1).dieAngle).toBe(0)
            expect(at('takeOut', 0).dieAngle).toBe(tubeOutFirst ? step.angle : 0)
          })
        }
  })

  it(`is taken out, swung end for end, rotated and put in as one stiff body at one height (seed ${seed + 11})`, () => {
    const next = seeded(seed + 11)
    let swung = 0
    for (let n = 0; n < 120; n++) {
      const { run, tooling } = randomRun(next, 2 + Math.floor(next() * 5))
      const order = shuffled(next, orderFrom('A', run.route!.bends.length)).map(o => ({
        ...o,
        lead: next() < 0.5 ? ('A' as const) : ('B' as const),
      }))
      const kind = next() < 0.5 ? ('rotaryDraw' as const) : ('compression' as const)
      const hand = next() < 0.5 ? ('left' as const) : ('right' as const)
      const layout = layOut(run, tooling, NO_SPRINGBACK, { hand, kind, order, tubeOutFirst: next() < 0.3 })
      const stock = stockOf(run)
      const at = (i: number, motion: TubeMotion, f: number) => {
        const lines = straightsOf(tubeAtDie(layout, stock, i, motion, f, 300).pieces)
        // End A first, whichever end leads.
        const leads = motion === 'outBefore' ? layout.steps[i - 1]!.lead : layout.steps[i]!.lead
        return leads === 'A' ? lines : reversed(lines)
      }
      const apart = (a: ReturnType<typeof at>, b: ReturnType<typeof at>) => {
        expect(a).toHaveLength(b.length)
        return Math.max(
          ...a.map((line, k) => Math.max(distance(line.start, b[k]!.start), distance(line.end, b[k]!.end))),
        )
      }
      layout.steps.forEach((step, i) => {
        if (!putInAnew(layout, i)) return
        expect(apart(at(i, 'outBefore', 1), at(i - 1, 'takeOut', 1))).toBeLessThan(1e-9)
        expect(apart(at(i, 'turnOutside', 1), at(i, 'putIn', 0))).toBeLessThan(1e-9)
        expect(apart(at(i, 'endForEnd', 1), at(i, 'turnOutside', 0))).toBeLessThan(1e-9)
        if (!step.turnedAround) return
        swung++
        // Flat: every point keeps its height and its distance from the upright, and the ends have changed sides.
        for (const f of [0, 0.25, 0.5])
          at(i, 'endForEnd', f).forEach((line, k) => {
            const there = at(i, 'endForEnd', 1)[k]!
            expect(line.start[2]).toBeCloseTo(there.start[2], 9)
            expect(Math.hypot(line.end[0], line.end[1])).toBeCloseTo(
              Math.hypot(there.end[0], there.end[1]),
              7,
            )
          })
        const side = (f: number) => at(i, 'endForEnd', f)[0]!.start[0]
        expect(side(0)).toBeCloseTo(0 - side(1), 7)
      })
    }
    expect(swung).toBeGreaterThan(50)
  })

  it(`is put in anew exactly where the housing check puts it in (seed ${seed + 2})`, () => {
    const next = seeded(seed + 2)
    for (let n = 0; n < 200; n++) {
      const { run, tooling } = randomRun(next, 2 + Math.floor(next() * 5))
      const order = shuffled(next, orderFrom('A', run.route!.bends.length)).map(o => ({
        ...o,
        lead: next() < 0.7 ? ('A' as const) : ('B' as const),
      }))
      const kind = next() < 0.8 ? ('rotaryDraw' as const) : ('compression' as const)
      const tubeOutFirst = next() < 0.3
      const bender = { ...knownBender('bench-left')!.bender, kind, tubeOutFirst }
      const setup = benchSetup(run, bender, tooling, NO_SPRINGBACK, {
        trimAt: order[0]!.lead === 'A' ? 'B' : 'A',
      })
      const layout = layOut(run, tooling, NO_SPRINGBACK, { hand: 'left', kind, order, tubeOutFirst })
      order.forEach((step, i) => {
        const made = new Set(order.slice(0, i).map(o => o.bend))
        const state = { ...step, before: order[i - 1] ?? null, made: (bend: number) => made.has(bend) }
        expect(putInAnew(layout, i)).toBe(!slidesOn(setup, state))
        if (slidesOn(setup, state))
          expect(slideOf(layout, i)).toBeCloseTo(sidesAt(setup, state).front.firstStraight, 6)
      })
    }
  })

  it(`lies where the housing check has it before every bend, so that the picture is what was certified (seed ${seed + 3})`, () => {
    const next = seeded(seed + 3)
    for (let n = 0; n < 150; n++) {
      const { run, tooling } = randomRun(next, 1 + Math.floor(next() * 5))
      const order = shuffled(next, orderFrom('A', run.route!.bends.length)).map(o => ({
        ...o,
        lead: next() < 0.6 ? ('A' as const) : ('B' as const),
      }))
      const hand = next() < 0.5 ? ('left' as const) : ('right' as const)
      const bender = { ...knownBender('bench-left')!.bender, hand }
      const trimAt = order[0]!.lead === 'A' ? 'B' : 'A'
      const setup = benchSetup(run, bender, tooling, NO_SPRINGBACK, { trimAt })
      const layout = layOut(run, tooling, NO_SPRINGBACK, { hand, kind: 'rotaryDraw', order })
      order.forEach((step, i) => {
        const made = new Set(order.slice(0, i).map(o => o.bend))
        const state = { ...step, before: order[i - 1] ?? null, made: (bend: number) => made.has(bend) }
        const { front, tail } = sidesAt(setup, state)
        const { pieces } = tubeAtDie(layout, setup.stock, i, 'turn', 1)
        for (const [end, side] of [
          [pieces[0]!.start, front],
          [pieces.at(-1)!.end, tail],
        ] as const) {
          const last = side.parts.at(-1)
          if (last?.kind === 'line') expect(distance(end, last.to)).toBeLessThan(1e-6)
        }
      })
    }
  })
})
