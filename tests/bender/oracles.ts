import { handlingRank } from '../../src/bender/handling.ts'
import { benchSetup } from '../../src/bender/housing.ts'
import { layOut, orderFrom } from '../../src/bender/layOut.ts'
import { judgeOrder, searchOrder } from '../../src/bender/orderSearch.ts'
import { sweep } from '../../src/bender/sweep.ts'
import type { Lead, OrderedBend } from '../../src/solve/bendOrder.ts'
import type { Oracle } from '../measure/oracle.ts'
import { benderNamed, equipmentFor } from './benders.ts'
import { denseLeast } from './dense.ts'
import { seeded } from './random.ts'
import { randomRun, runFromRows, shuffled } from './randomRun.ts'
import { misfit, replay } from './replay.ts'
import { randomScene } from './scenes.ts'
import { sawn, wanted } from './wantedStraights.ts'

/** The bench's own oracles, each on fresh random cases of this run. */
export async function benderOracles(): Promise<Oracle[]> {
  return [sweepOracle(), searchOracle(), replayOracle()]
}

function sweepOracle(): Oracle {
  const next = seeded(4711)
  const cases = 60
  let [above, under] = [Number.NEGATIVE_INFINITY, 0]
  for (let i = 0; i < cases; i++) {
    const { jobs, radius } = randomScene(next)
    const { atLeast } = sweep(jobs, radius)!
    let dense = Number.POSITIVE_INFINITY
    for (const [times, lengths, sections, throws] of [
      [40, 16, 12, 25],
      [200, 30, 24, 200],
      [1000, 40, 36, 1000],
    ] as const) {
      dense = Math.min(dense, denseLeast(jobs, radius, { times, lengths, sections, throws }))
      if (dense - atLeast <= 0.05) break
    }
    above = Math.max(above, atLeast - dense)
    under = Math.max(under, dense - atLeast)
  }
  return {
    property: 'swept clearance is never above dense sampling, and near it',
    cases,
    worst: `${above > 0 ? above.toExponential(1) : '0'} mm above, ${under.toFixed(3)} mm under`,
  }
}

function searchOracle(): Oracle {
  const next = seeded(97)
  const bender = benderNamed('bench-left')
  const { tooling, springback } = equipmentFor(bender, 12)
  const orders = everyOrder(3)
  const cases = 6
  let worst = 0
  let other = 0
  for (let i = 0; i < cases; i++) {
    const rows = {
      straights: Array.from({ length: 4 }, () => 45 + 160 * next()),
      bends: Array.from({ length: 3 }, (_, k) => ({
        angle: 30 + 90 * next(),
        rotation: k === 0 ? null : 360 * next() - 180,
      })),
    }
    const run = runFromRows(rows, 36, { insertionA: 10, insertionB: 10, trim: 0 })
    const setup = benchSetup(run, bender, tooling, springback, { trimAt: 'B' })
    const all = orders
      .map(o => judgeOrder(setup, o, 'clearer'))
      .filter(o => o.steps.every(s => s.hold === null))
    const found = searchOrder(setup)
    worst = Math.max(worst, Math.max(...all.map(o => o.atLeast!)) - found.clearest!.atLeast!)
    const reached = all.filter(o => o.clears && o.atLeast! >= setup.margin - 0.05)
    const least = Math.min(...reached.map(o => handlingRank(o.handling)))
    if (
      found.reached !== reached.length > 0 ||
      (found.reached && handlingRank(found.best.handling) !== least)
    )
      other++
  }
  return {
    property: `order search against all ${orders.length} orders of three bends: handling, clearance`,
    cases,
    worst: `${other} other, ${worst.toFixed(3)} mm`,
  }
}

function everyOrder(n: number): OrderedBend[][] {
  const grow = (order: OrderedBend[]): OrderedBend[][] =>
    order.length === n
      ? [order]
      : Array.from({ length: n }, (_, bend) => bend)
          .filter(bend => !order.some(o => o.bend === bend))
          .flatMap(bend => (['A', 'B'] as Lead[]).flatMap(lead => grow([...order, { bend, lead }])))
  return grow([])
}

function replayOracle(): Oracle {
  const next = seeded(20240607)
  const cases = 1000
  let worst = 0
  for (let i = 0; i < cases; i++) {
    const { run, tooling } = randomRun(next, 1 + Math.floor(6 * next()))
    const order = shuffled(next, orderFrom('A', run.route!.bends.length)).map(
      (o): OrderedBend => ({ ...o, lead: next() < 0.5 ? 'A' : 'B' }),
    )
    const hand = next() < 0.5 ? 'left' : 'right'
    const layout = layOut(run, tooling, null, { hand, kind: 'rotaryDraw', order })
    const bench = { hand, kind: 'rotaryDraw', referenceOffset: tooling.referenceOffset } as const
    const tube = replay(layout.cutLength, bench, layout.steps)
    worst = Math.max(worst, misfit(sawn(tube, order[0]!.lead, layout.trim), wanted(run)))
  }
  return {
    property: 'the tube that the steps make is the route',
    cases,
    worst: `${worst.toExponential(1)} mm`,
  }
}
