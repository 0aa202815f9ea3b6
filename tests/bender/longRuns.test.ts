import { describe, expect, test } from 'vitest'
import { benchFindings } from '../../src/bender/benchFindings.ts'
import { clearOrder, motionPlans } from '../../src/bender/clearStep.ts'
import { benchSetup } from '../../src/bender/housing.ts'
import { orderFrom } from '../../src/bender/layOut.ts'
import { judgeOrder, searchOrder } from '../../src/bender/orderSearch.ts'
import { NotKnown, sweep } from '../../src/bender/sweep.ts'
import { distance } from '../../src/geometry/vec3.ts'
import { PLAIN_FRAME, type Rows, rowsOf, rowsToPoints, startFrame } from '../../src/solve/rows.ts'
import { benderNamed, equipmentFor } from './benders.ts'
import { seeded } from './random.ts'
import { runFromRows, toolingFor } from './randomRun.ts'

const NONE = { insertionA: 0, insertionB: 0, trim: 0 }
const bender = benderNamed('bench-left')
const { tooling, springback } = equipmentFor(bender, 12)

const manyRows = (bends: number, straight: number, angle: number, rotation: (k: number) => number): Rows => ({
  straights: Array.from({ length: bends + 1 }, () => straight),
  bends: Array.from({ length: bends }, (_, k) => ({ angle, rotation: k === 0 ? null : rotation(k) })),
})
/** Runs that a carried frame would lose long before their end. */
const LONG: readonly (readonly [string, Rows])[] = [
  ['a coil of 60 bends', manyRows(60, 60, 40, () => 4)],
  ['a serpentine of 80 bends', manyRows(80, 130, 90, k => (k % 2 === 0 ? 180 : 0))],
  ['a spatial zigzag of 300 bends', manyRows(300, 80, 60, k => [90, -55, 155][k % 3]!)],
]

describe.each(LONG)('%s', (_, rows) => {
  const run = runFromRows(rows, 36, NONE)

  test('gives its points back from its rows, to 1e-9 mm per metre of tube', () => {
    const { route } = run
    const back = rowsToPoints(rowsOf(route!), 36, startFrame(route!))
    const most = Math.max(...back.map((p, i) => distance(p, route!.points[i]!)))
    expect(most / (route!.developedLength / 1000)).toBeLessThan(1e-9)
  })

  test.each(['A', 'B'] as const)(
    'lies at the die after its last bend as it does on the skid, %s first',
    lead => {
      const count = rows.bends.length
      const setup = benchSetup(run, bender, toolingFor(12, 36), null, { trimAt: lead === 'A' ? 'B' : 'A' })
      const order = orderFrom(lead, count)
      const last = order.at(-1)!
      const plans = motionPlans(setup, { ...last, before: order.at(-2)!, made: b => b !== last.bend })
      const [front, tail, inHand] = plans.find(p => p.motion === 'takeOut')!.jobs
      const centres = [...front!.parts.toReversed(), ...inHand!.parts, ...tail!.parts].flatMap(p =>
        p.kind === 'arc' ? [p.centre] : [],
      )
      const arcs = run.route!.pieces.flatMap(p => (p.kind === 'arc' ? [p.centre] : []))
      const wanted = lead === 'A' ? arcs : arcs.toReversed()
      expect(centres).toHaveLength(count)
      // Shapes are the same when all distances from a few points are.
      for (const from of [0, 1, 2, count - 1])
        for (let k = 0; k < count; k++)
          expect(
            Math.abs(distance(centres[k]!, centres[from]!) - distance(wanted[k]!, wanted[from]!)),
          ).toBeLessThan(1e-7)
    },
  )
})

test('random rows of up to 260 bends come back to 1e-9 mm per metre of tube (seed 77)', () => {
  const next = seeded(77)
  for (let n = 0; n < 12; n++) {
    const bends = 200 + Math.floor(60 * next())
    const rows: Rows = {
      straights: Array.from({ length: bends + 1 }, () => 20 + 200 * next()),
      bends: Array.from({ length: bends }, (_, k) => ({
        angle: 10 + 150 * next(),
        rotation: k === 0 ? null : 360 * next() - 180,
      })),
    }
    const { route } = runFromRows(rows, 36, NONE)
    const back = rowsToPoints(rowsOf(route!), 36, startFrame(route!))
    const most = Math.max(...back.map((p, i) => distance(p, route!.points[i]!)))
    expect(most / (route!.developedLength / 1000)).toBeLessThan(1e-9)
    const again = rowsToPoints(rows, 36, PLAIN_FRAME)
    const off = Math.max(...again.map((p, i) => distance(p, route!.points[i]!)))
    expect(off).toBeLessThan(1e-9)
  }
})

test('a coil that stands away from the bender clears it in every bend, however many there are', () => {
  // Its bends lie in a wide ring above the die: nothing of it comes near the housing, from the first bend to the last.
  const run = runFromRows(
    manyRows(50, 160, 12, () => 2),
    36,
    NONE,
  )
  const free = { ...bender, benchTop: null, housing: [], arm: bender.arm.slice(1) }
  const judged = judgeOrder(benchSetup(run, free, tooling, springback, { trimAt: 'B' }), orderFrom('A', 50))
  expect(
    judged.steps.flatMap(s => s.motions).every(m => m.atLeast !== null && Number.isFinite(m.atLeast)),
  ).toBe(true)
  expect(judged.clears).toBe(true)
}, 60_000)

describe('what cannot be known', () => {
  const run = runFromRows(
    {
      straights: [120, 90, 120],
      bends: [
        { angle: 60, rotation: null },
        { angle: 45, rotation: 70 },
      ],
    },
    36,
    NONE,
  )
  const made = benchSetup(run, bender, tooling, springback, { trimAt: 'B' })
  // An arm that does not move: the stock would be fed at no angle.
  const setup = { ...made, commanded: [0, made.commanded[1]!] }

  test('is refused where the springback takes all of the angle away', () => {
    const nonsense = { material: '316', offset: -60, perDegree: 0, range: null }
    expect(() => benchSetup(run, bender, tooling, nonsense, { trimAt: 'B' })).toThrow(
      /bend 1: found a dial reading/,
    )
  })

  test('is "not checked" with the motion it is of, never clear', () => {
    const judged = judgeOrder(setup, orderFrom('A', 2))
    expect(judged.clears).toBe(false)
    const findings = benchFindings(run, clearOrder(setup, orderFrom('A', 2)))
    const open = findings.filter(f => f.severity === 'notChecked')
    expect(open.map(f => f.id)).toContain('housingNotChecked:r:p1:bend')
    expect(open[0]!.message).toMatch(/^clearance from the bender is not checked: making bend 1, a figure/)
  })

  test('is never the best order', () => {
    const found = searchOrder(setup)
    expect(found.best.clears).toBe(false)
    expect(found.blocked).toMatch(/^no order (is known to clear|clears|can be set up)/)
  })

  test('is a tube with a point that is no number, or farther off than figures reach', () => {
    const solids = benchSetup(run, bender, tooling, springback, { trimAt: 'B' }).solids.housing
    const motion = { kind: 'still', from: 0, to: 0 } as const
    const reads = { plus: 0, per: 1 }
    for (const x of [Number.NaN, Number.POSITIVE_INFINITY, 2e6]) {
      const of = { kind: 'straight', index: 0 } as const
      const part = { of, kind: 'line', from: [0, 0, 300], to: [x, 0, 300] } as const
      expect(() => sweep([{ parts: [part], solids, motion, reads }], 6)).toThrow(NotKnown)
    }
  })
})
