import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { layOut, orderFrom, stockOf } from '../../src/bender/layOut.ts'
import { backBeyondTangent, onPartAt } from '../../src/bender/onPart.ts'
import { clockOf, stepAtDie, stepsAtDie } from '../../src/bender/stepAtDie.ts'
import { springbackOf, toolingOf } from '../../src/document/lookUp.ts'
import type { SkidDocument, Springback } from '../../src/document/types.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { madeWith } from '../../src/solve/making.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { legsSeen, measuredOnPart } from './atTheBench.ts'
import { benderNamed } from './benders.ts'
import { seeded } from './random.ts'
import {
  lopsidedRun,
  madeRun,
  type RandomRun,
  randomRun,
  runFromRows,
  shuffled,
  toolingFor,
} from './randomRun.ts'
import { replay, type Seated } from './replay.ts'

const NONE: Springback = { material: 'x', offset: 0, perDegree: 0, range: null }
const HANDS = ['left', 'right'] as const
const KINDS = ['rotaryDraw', 'compression'] as const

/** Any order of the bends, each led by either end. */
const anyOrder = (next: () => number, bends: number): OrderedBend[] =>
  shuffled(next, orderFrom('A', bends)).map(o => ({ ...o, lead: next() < 0.5 ? 'A' : 'B' }))

interface Case extends RandomRun {
  readonly order: readonly OrderedBend[]
  readonly hand: 'left' | 'right'
  readonly kind: 'rotaryDraw' | 'compression'
  readonly springback: Springback
}

function randomCase(next: () => number, bends: number): Case {
  const drawn = randomRun(next, bends)
  const clrMeasured = next() < 0.3 ? ('die' as const) : ('settled' as const)
  const tooling = { ...drawn.tooling, clrMeasured, stretchAt90: next() < 0.5 ? 0 : 2 * next() }
  const springback = { ...NONE, offset: next(), perDegree: 0.01 * next() }
  return {
    run: madeRun(drawn.run, madeWith(tooling, springback)),
    tooling,
    order: anyOrder(next, bends),
    hand: HANDS[Math.floor(next() * 2)]!,
    kind: KINDS[Math.floor(next() * 2)]!,
    springback,
  }
}

const laidOut = ({ run, tooling, springback, ...options }: Case) => ({
  layout: layOut(run, tooling, springback, options),
  stock: stockOf(run),
})

/** What a bender played by marks, turns and angles alone sees at every step. */
function seen(c: Case): {
  layout: ReturnType<typeof layOut>
  stock: ReturnType<typeof stockOf>
  at: Seated[]
} {
  const { layout, stock } = laidOut(c)
  const at: Seated[] = []
  replay(
    layout.cutLength,
    { hand: c.hand, kind: c.kind, referenceOffset: c.tooling.referenceOffset },
    layout.steps,
    s => at.push(s),
  )
  return { layout, stock, at }
}

const apart = (a: number | null, b: number | null): number =>
  a === null || b === null ? (a === b ? 0 : Infinity) : Math.abs(((a - b + 540) % 360) - 180)

describe('a step at the die', () => {
  const seed = 70411
  it(`has every leg where a replay by marks, turns and angles has it, any order, ends, hands and kinds (seed ${seed})`, () => {
    const next = seeded(seed)
    let hidden = 0
    let steps = 0
    for (let n = 0; n < 1500; n++) {
      const c = randomCase(next, 1 + Math.floor(next() * 7))
      const { layout, stock, at } = seen(c)
      if (stock.straights.some(s => s < 0)) continue
      stepsAtDie(layout, stock, c.tooling.od).forEach((step, i) => {
        const want = legsSeen(at[i]!, stock.straights, layout)
        expect(step.legs.map(l => l.leg)).toEqual(want.map((_, k) => k + 1))
        expect(step.legs.map(l => l.ahead)).toEqual(want.map(w => w.ahead))
        const off = step.legs.map((leg, k) =>
          Math.max(apart(leg.clock, want[k]!.clock), apart(leg.clockBefore, want[k]!.clockBefore)),
        )
        if (!(Math.max(...off) < 1e-6)) expect.fail(`run ${n} step ${i}: legs off by ${off.join(', ')}°`)
        steps++
        if (step.pointers.length > 0 && step.pointers.every(p => !p.ahead)) hidden++
      })
    }
    // Steps whose made bends all lie behind the die, on the operator's side, are among them.
    expect(hidden).toBeGreaterThan(steps / 20)
  })

  it(`turns every leg by the figure of the step, with its sign (seed ${seed + 1})`, () => {
    const next = seeded(seed + 1)
    for (let n = 0; n < 300; n++) {
      const c = randomCase(next, 2 + Math.floor(next() * 5))
      const { layout, stock } = laidOut(c)
      for (const { legs, pointers, step } of stepsAtDie(layout, stock, c.tooling.od)) {
        for (const { clock, clockBefore } of legs)
          if (clock !== null && clockBefore !== null)
            expect(apart(clock, clockBefore + (step.turn ?? 0))).toBeLessThan(1e-6)
        expect(pointers.length > 0).toBe(step !== layout.steps[0])
      }
    }
  })

  it(`measures from an end or the back of a made bend what a tape reads on the replayed part (seed ${seed + 2})`, () => {
    const next = seeded(seed + 2)
    const from = { end: 0, back: 0 }
    for (let n = 0; n < 1500; n++) {
      const c = randomCase(next, 1 + Math.floor(next() * 7))
      const { layout, stock, at } = seen(c)
      if (stock.straights.some(s => s < 0)) continue
      layout.steps.forEach((step, i) => {
        const found = onPartAt(layout, stock, i, c.tooling.od)
        expect(found).not.toBeNull()
        const measured = measuredOnPart(at[i]!, layout, step, found!.from, c.tooling.od)
        expect(Math.abs(found!.distance - measured), `run ${n} step ${i} ${found!.from}`).toBeLessThan(1e-4)
        from[found!.from.startsWith('end') ? 'end' : 'back']++
      })
    }
    expect(from.end).toBeGreaterThan(500)
    expect(from.back).toBeGreaterThan(500)
  })

  it(`names the end of every mark: the one it is measured from on the stock, which leads (seed ${seed + 3})`, () => {
    const next = seeded(seed + 3)
    for (let n = 0; n < 200; n++) {
      const c = randomCase(next, 1 + Math.floor(next() * 6))
      const { layout, stock } = laidOut(c)
      const steps = stepsAtDie(layout, stock, c.tooling.od)
      steps.forEach((s, i) => {
        expect(s.markEnd).toBe(c.order[i]!.lead)
        expect(s.turnedEndForEnd).toBe(i > 0 && c.order[i - 1]!.lead !== c.order[i]!.lead)
        expect(s.clampEndChanges).toBe(i === 0 || s.turnedEndForEnd)
        // A mark found from the end that leads is the mark on the stock: it is never two figures.
        if (s.onPart?.from === `end ${s.markEnd}`) expect(s.onPart.distance).toBeCloseTo(s.step.mark, 9)
      })
    }
  })

  it('shows the bend just made in the plane of the die before the turn, on the side of the die', () => {
    const { run, tooling } = lopsidedRun()
    for (const hand of HANDS)
      for (const lead of ['A', 'B'] as const) {
        const order = orderFrom(lead, 4)
        const layout = layOut(run, tooling, NONE, { hand, kind: 'rotaryDraw', order })
        const steps = stepsAtDie(layout, stockOf(run), 12)
        expect(steps[0]!.pointers).toEqual([])
        for (const { pointers, step } of steps.slice(1)) {
          expect(pointers).toHaveLength(1)
          expect(pointers[0]!.ahead).toBe(true)
          expect(pointers[0]!.clockBefore).toBeCloseTo(hand === 'left' ? 270 : 90, 9)
          expect(apart(pointers[0]!.clock, pointers[0]!.clockBefore + step.turn!)).toBeLessThan(1e-9)
        }
      }
  })

  it('tells a lopsided tube from its mirror image, in every order of a mixed lot', () => {
    const { run, tooling } = lopsidedRun()
    const mirrored = runFromRows(
      {
        straights: run.route!.straights,
        bends: run.route!.bends.map(b => ({
          angle: b.angle,
          rotation: b.rotation === null ? null : 0 - b.rotation,
        })),
      },
      36,
      { insertionA: 9, insertionB: 14, trim: 5 },
    )
    const next = seeded(seed + 4)
    for (let n = 0; n < 40; n++) {
      const options = { hand: 'left' as const, kind: 'rotaryDraw' as const, order: anyOrder(next, 4) }
      const clocks = (r: typeof run) => {
        const layout = layOut(r, tooling, NONE, options)
        return stepsAtDie(layout, stockOf(r), 12).map(s => s.legs.map(l => l.clock))
      }
      const [own, other] = [clocks(run), clocks(mirrored)]
      own.forEach((legs, i) => {
        // Mirrored in the plane of the die, which both tubes are bent in: what pointed up points down.
        legs.forEach((clock, k) => {
          expect(apart(clock, other[i]![k] === null ? null : 180 - other[i]![k]!)).toBeLessThan(1e-6)
        })
      })
      expect(own.slice(1).every((legs, i) => legs.some((c, k) => apart(c, other[i + 1]![k]!) > 5))).toBe(true)
    }
  })

  it('honours the way of a half turn: the same legs after it, from the other side before', () => {
    const run = runFromRows(
      {
        straights: [60, 90, 75],
        bends: [
          { angle: 40, rotation: null },
          { angle: 70, rotation: 180 },
        ],
      },
      36,
      { insertionA: 0, insertionB: 0, trim: 0 },
    )
    const tooling = toolingFor(12, 36, 3)
    const layout = layOut(run, tooling, NONE, {
      hand: 'left',
      kind: 'rotaryDraw',
      order: orderFrom('A', 2),
    })
    const stock = stockOf(run)
    const turned = (turn: number) =>
      stepAtDie(
        { ...layout, steps: layout.steps.map((s, i) => (i === 1 ? { ...s, turn } : s)) },
        stock,
        1,
        12,
      )
    for (const turn of [180, -180]) {
      const [pointer] = turned(turn).pointers
      expect(pointer!.clock).toBeCloseTo(90, 9)
      expect(pointer!.clockBefore).toBeCloseTo(270, 9)
      expect(turned(turn).step.turn).toBe(turn)
    }
  })

  it('points the right leg the right way on sample-like runs worked by hand', () => {
    // A flat U of two bends on a left-hand bender, far bend first: the leg behind the die lies where the die is.
    const run = runFromRows(
      {
        straights: [100, 150, 100],
        bends: [
          { angle: 90, rotation: null },
          { angle: 90, rotation: 0 },
        ],
      },
      36,
      { insertionA: 0, insertionB: 0, trim: 0 },
    )
    const order: OrderedBend[] = [
      { bend: 1, lead: 'A' },
      { bend: 0, lead: 'A' },
    ]
    const layout = layOut(run, toolingFor(12, 36), NONE, { hand: 'left', kind: 'rotaryDraw', order })
    const step = stepAtDie(layout, stockOf(run), 1, 12)
    expect(step.pointers).toHaveLength(1)
    expect(step.pointers[0]).toMatchObject({ leg: 3, bend: 2, ahead: false })
    expect(step.pointers[0]!.clock).toBeCloseTo(270, 9)
    expect(step.legs.map(l => l.ahead)).toEqual([true, false, false])
  })
})

describe('the samples at the die', () => {
  const everyOrder = (bends: number): number[][] =>
    bends === 0
      ? [[]]
      : everyOrder(bends - 1).flatMap(o =>
          Array.from({ length: bends }, (_, at) => [...o.slice(0, at), bends - 1, ...o.slice(at)]),
        )

  it.each([
    ['first-route.json', 'AE-101', 'bench-right'],
    ['thirty-runs.json', 'AF-201', 'bench-left'],
  ])(
    '%s, %s on %s: legs and marks are the replay’s in every order of the bends, A, B and mixed',
    (file, tag, id) => {
      const path = new URL(`../../sample-routes/${file}`, import.meta.url)
      const read = JSON.parse(readFileSync(path, 'utf8')) as SkidDocument
      const bender = benderNamed(id)
      const document = {
        ...read,
        benders: [bender],
        runs: read.runs.filter(r => r.tag === tag).map(r => ({ ...r, bender: id })),
      }
      const run = solveDocument(document)[0]!
      const { od } = document.runs[0]!.tube
      const tooling = toolingOf(bender, document.runs[0]!)!
      const springback = springbackOf(bender, document.runs[0]!)
      const { hand, kind } = bender
      for (const bends of everyOrder(run.route!.bends.length))
        for (const leads of ['AAAA', 'BBBB', 'ABAB', 'BBAA']) {
          const order = bends.map((bend, i): OrderedBend => ({ bend, lead: leads[i] === 'B' ? 'B' : 'A' }))
          const c: Case = { run, tooling, order, hand, kind, springback: springback! }
          const { layout, stock, at } = seen(c)
          stepsAtDie(layout, stock, od).forEach((step, i) => {
            const want = legsSeen(at[i]!, stock.straights, layout)
            for (const [k, leg] of step.legs.entries()) {
              expect(apart(leg.clock, want[k]!.clock)).toBeLessThan(1e-6)
              expect(apart(leg.clockBefore, want[k]!.clockBefore)).toBeLessThan(1e-6)
              expect(leg.ahead).toBe(want[k]!.ahead)
            }
            const measured = measuredOnPart(at[i]!, layout, step.step, step.onPart!.from, od)
            expect(Math.abs(step.onPart!.distance - measured)).toBeLessThan(1e-4)
          })
        }
    },
  )

  it('has the only leg bent behind the die go from the die’s side to straight up, as it does at the bench', () => {
    const path = new URL('../../sample-routes/thirty-runs.json', import.meta.url)
    const document = JSON.parse(readFileSync(path, 'utf8')) as SkidDocument
    const drawn = document.runs.find(r => r.tag === 'AF-201')!
    const bender = document.benders.find(b => b.id === drawn.bender)!
    const run = solveDocument(document).find(r => r.tag === 'AF-201')!
    const order = [3, 0, 2, 1].map((bend): OrderedBend => ({ bend, lead: 'A' }))
    const layout = layOut(run, toolingOf(bender, drawn)!, springbackOf(bender, drawn), {
      hand: bender.hand,
      kind: bender.kind,
      order,
    })
    const steps = stepsAtDie(layout, stockOf(run), drawn.tube.od)
    const [pointer] = steps[1]!.pointers
    expect(pointer).toMatchObject({ leg: 5, bend: 4, ahead: false })
    expect(pointer!.clockBefore).toBeCloseTo(270, 6)
    expect(apart(pointer!.clock, 0)).toBeLessThan(1e-6)
    // 639.6 from where bend 1 ends, and CLR 30 + half of OD 10 to its back.
    expect(steps[2]!.onPart!.from).toBe('back of bend 1')
    expect(steps[2]!.onPart!.distance).toBeCloseTo(674.6, 1)
    expect(steps[1]!.onPart!.from).toBe('end A')
    expect(steps[1]!.onPart!.distance).toBeCloseTo(steps[1]!.step.mark, 9)
  })
})

describe('where a mark is found on the part', () => {
  it('has its figure from the clock worked by hand, from both sides of straight up', () => {
    expect(clockOf([0.2, 0, 1])).toBe(0)
    expect(clockOf([0.2, -1, 0])).toBeCloseTo(90, 12)
    expect(clockOf([0.2, 0, -1])).toBeCloseTo(180, 12)
    expect(clockOf([0.2, 1, 0])).toBeCloseTo(270, 12)
    expect(clockOf([1, 0, 0])).toBeNull()
    expect(clockOf([-1, 1e-9, 0])).toBeNull()
  })

  it('has the back of a bend where square and straightedge find it, and at 90° both the same', () => {
    expect(backBeyondTangent(36, 90, 12)).toBeCloseTo(42, 12)
    expect(backBeyondTangent(36, 60, 12)).toBeCloseTo(42 * Math.tan(Math.PI / 6), 12)
    expect(backBeyondTangent(36, 135, 12)).toBeCloseTo(42, 12)
    for (let angle = 6; angle <= 175; angle++)
      expect(backBeyondTangent(36, angle, 12)).toBeGreaterThanOrEqual(backBeyondTangent(36, angle - 1, 12))
  })

  const between = (angles: readonly [number, number, number], straights: readonly number[], offset = 3) => {
    const run = runFromRows(
      { straights, bends: angles.map((angle, k) => ({ angle, rotation: k === 0 ? null : 40 })) },
      36,
      { insertionA: 0, insertionB: 0, trim: 0 },
    )
    const tooling = toolingFor(12, 36, offset)
    const order = [0, 2, 1].map(bend => ({ bend, lead: 'A' as const }))
    const layout = layOut(run, tooling, NONE, { hand: 'left', kind: 'rotaryDraw', order })
    return [0, 1, 2].map(i => onPartAt(layout, stockOf(run), i, 12))
  }

  it('goes from the end that leads, else from what is nearest: a back on either side or the other end', () => {
    const arc = (angle: number) => (36 * angle * Math.PI) / 180
    const [first, second, third] = between([90, 60, 90], [80, 70, 120, 200])
    expect(first).toEqual({ from: 'end A', distance: 83, back: null })
    expect(second?.from).toBe('end B')
    expect(second!.distance).toBeCloseTo(200 + arc(90) - 3, 9)
    expect(third?.from).toBe('back of bend 1')
    expect(third!.distance).toBeCloseTo(70 + 3 + 42, 9)
    expect(third!.back).toMatchObject({ bend: 1, leg: 1, angle: expect.closeTo(90, 9) })
    // A long tail is a long way for a tape: the bend made before is nearer, unless its back is hard to hit.
    expect(between([90, 60, 90], [80, 70, 120, 900])[1]?.from).toBe('back of bend 1')
    expect(between([12, 60, 90], [80, 70, 120, 900])[1]?.from).toBe('end B')
  })

  it('leaves a shallow bend, whose back is hard to hit, for a sharper one farther off', () => {
    const [, , third] = between([12, 60, 90], [80, 70, 120, 200])
    expect(third?.from).toBe('back of bend 3')
    expect(third!.back).toMatchObject({ bend: 3, leg: 4 })
    expect(third!.distance).toBeCloseTo(120 + (36 * 60 * Math.PI) / 180 - 3 + 42, 9)
    expect(between([12, 60, 8], [80, 70, 120, 200])[2]?.from).toBe('back of bend 1')
  })

  it('gives nothing for a mark that does not lie on straight tube', () => {
    expect(between([90, 60, 90], [80, 12, 120, 200], -20)[2]).toBeNull()
    expect(between([90, 60, 90], [12, 70, 120, 200], -20)[0]).toBeNull()
  })
})
