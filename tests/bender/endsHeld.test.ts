import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { equipmentFor } from '../../src/bender/benchCommand.ts'
import { orderFindings } from '../../src/bender/benchFindings.ts'
import { benchSetup } from '../../src/bender/housing.ts'
import { housingCheck } from '../../src/bender/housingCheck.ts'
import { judgeOrder } from '../../src/bender/orderSearch.ts'
import { checksOfRun } from '../../src/checks/runChecks.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Rule } from '../../src/findings/rules.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'

/** A run of four bends on a bender without solids, its clamp, follower and trim as given, mm. */
function onBender(clampGrip: number, followerLength: number, trimAllowance: number): SkidDocument {
  const read = readDocument(readFileSync('sample-routes/first-route.json', 'utf8'))
  if (!read.ok) throw new Error(read.errors[0]!.message)
  return {
    ...read.document,
    runs: read.document.runs.filter(r => r.tag === 'AE-101').map(r => ({ ...r, trimAllowance })),
    benders: read.document.benders.map(b => ({
      ...b,
      housing: [],
      arm: [],
      benchTop: null,
      tooling: b.tooling.map(t => ({ ...t, clampGrip, followerLength })),
    })),
  }
}

type Step = { readonly bend: number; readonly lead: 'A' | 'B' }

/** Every order of the bends with every leading end. */
function allOrders(count: number): Step[][] {
  const orders: Step[][] = []
  const add = (done: readonly Step[]) => {
    if (done.length === count) orders.push([...done])
    for (let bend = 0; bend < count; bend++)
      if (!done.some(s => s.bend === bend))
        for (const lead of ['A', 'B'] as const) add([...done, { bend, lead }])
  }
  add([])
  return orders
}

/** By addition alone: straight stock on either side of each bend as it is made, in the order. */
function holds(document: SkidDocument, order: readonly Step[]): boolean {
  const [run] = document.runs
  const solved = solveRun(document, run!)
  const { straights, bends } = solved.route!
  const { tooling } = equipmentFor(document, solved, {})
  const trimAt = order[0]!.lead === 'A' ? 'B' : 'A'
  const made = new Set<number>()
  return order.every(({ bend, lead }) => {
    const reach = (step: -1 | 1) => {
      let [k, long] = [bend, 0]
      for (;;) {
        long += straights[step < 0 ? k : k + 1]!
        k += step
        if (k < 0) return long + solved.insertionA + (trimAt === 'A' ? solved.trim : 0)
        if (k === bends.length) return long + solved.insertionB + (trimAt === 'B' ? solved.trim : 0)
        if (made.has(k)) return long
        long += bends[k]!.arcLength - solved.stretch[k]!
      }
    }
    const [front, tail] = lead === 'A' ? [reach(-1), reach(1)] : [reach(1), reach(-1)]
    made.add(bend)
    return front >= tooling.clampGrip - 1e-6 && tail >= tooling.followerLength - 1e-6
  })
}

const judged = (document: SkidDocument, order: readonly Step[]) => {
  const solved = solveRun(document, document.runs[0]!)
  const { bender, tooling, springback } = equipmentFor(document, solved, {})
  return judgeOrder(benchSetup(solved, bender, tooling, springback, { trimAt: 'B' }), order)
}

const OF_HOLDING: readonly Rule[] = ['frontHeld', 'tailHeld', 'straightClamp', 'housingHold']

const SEED = 6127
test(`a run that some order can hold has no error, one that none can hold has one, and the order proposed is held (seed ${SEED})`, () => {
  const random = seeded(SEED)
  const orders = allOrders(4)
  let [some, none, notA] = [0, 0, 0]
  for (let i = 0; i < 60; i++) {
    const document = onBender(
      random.between(20, 160),
      random.between(10, i % 3 === 0 ? 400 : 200),
      i % 2 === 0 ? 0 : random.between(5, 120),
    )
    const [run] = document.runs
    const solved = solveRun(document, run!)
    const held = orders.filter(order => holds(document, order))
    const found = [...checksOfRun(document, run!, solved), ...housingCheck(document, solved)]
    const errors = found
      .filter(f => f.severity === 'error' && OF_HOLDING.includes(f.rule))
      .map(f => f.message)
    const tooling = document.benders[0]!.tooling[0]!
    const what = `clamp ${tooling.clampGrip}, follower ${tooling.followerLength}, trim ${solved.trim}`
    expect(errors.length > 0, `${what}: ${held.length} orders hold; ${errors.join(' | ')}`).toBe(
      held.length === 0,
    )
    if (held.length === 0) none++
    else some++
    const proposed = found.find(f => f.rule === 'housingOrder')?.order
    if (held.length > 0 && proposed) {
      notA++
      expect(holds(document, proposed), what).toBe(true)
    }
  }
  expect(Math.min(some, none, notA)).toBeGreaterThan(5)
})

test(`whether each step of an order is held is what addition says, free tail and trim included (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  const orders = allOrders(4)
  let off = 0
  for (let i = 0; i < 40; i++) {
    const document = onBender(random.between(20, 120), random.between(10, 300), random.between(0, 60))
    const order = orders[random.whole(0, orders.length - 1)]!
    const { steps } = judged(document, order)
    const isHeld = steps.every(s => s.hold === null || s.hold.need === 'mark')
    expect(isHeld, `${JSON.stringify(order)} ${JSON.stringify(steps.map(s => s.hold))}`).toBe(
      holds(document, order),
    )
    const solved = solveRun(document, document.runs[0]!)
    if (!isHeld) {
      off++
      expect(orderFindings(solved, steps).some(f => f.rule === 'housingHold')).toBe(true)
    }
  }
  expect(off).toBeGreaterThan(5)
})
