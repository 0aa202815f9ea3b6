import { benchSetup, bending, sidesAt } from '../../src/bender/housing.ts'
import { layOut, orderFrom } from '../../src/bender/layOut.ts'
import { judgeLead, searchOrder } from '../../src/bender/orderSearch.ts'
import { SWEEP_TOLERANCE_MM, type SweepJob, sweep } from '../../src/bender/sweep.ts'
import type { Figure } from '../measure/figure.ts'
import { benderNamed, equipmentFor } from './benders.ts'
import { cramped } from './cramped.ts'
import { seeded } from './random.ts'
import { randomRun, runFromRows } from './randomRun.ts'
import { replay } from './replay.ts'

/** The certified sweep against sampling, the order search, and the replay; every ratio from this one run. */
export async function benderFigures(): Promise<Figure[]> {
  return [...sweepFigures(), ...orderFigures(), ...longFigures(), replayFigure()]
}

/**
 * The last bend of six-bend tubes through its whole angle. A sample certifies only what lies within its
 * distance of the next: sampling to the sweep's own tolerance takes that many more samples than 0.1°.
 */
function sweepFigures(): Figure[] {
  const next = seeded(11)
  let certified = 0
  let certifiedMs = 0
  let sampled = 0
  let sampledMs = 0
  let samples = 0
  let equal = 0
  for (let i = 0; i < 12; i++) {
    const setup = cramped(next, 6)
    const state = {
      bend: 5,
      lead: 'A' as const,
      before: { bend: 4, lead: 'A' as const },
      made: (b: number) => b < 5,
    }
    const plan = bending(setup, state, sidesAt(setup, state))
    const { jobs } = plan
    let start = performance.now()
    certified += sweep(jobs, setup.od / 2)?.evaluations ?? 0
    certifiedMs += performance.now() - start

    const steps = Math.ceil(plan.to / 0.1)
    start = performance.now()
    for (let k = 0; k <= steps; k++) {
      const at = jobs.map((job): SweepJob => {
        const t = job.motion.from + ((job.motion.to - job.motion.from) * k) / steps
        return { ...job, motion: { ...job.motion, from: t, to: t } }
      })
      sampled += sweep(at, setup.od / 2)?.evaluations ?? 0
    }
    sampledMs += performance.now() - start
    samples += steps + 1
    // The farthest point of the swung side sets how far apart samples may be.
    const lever = Math.max(
      ...jobs[0]!.parts.map(p =>
        p.kind === 'line'
          ? Math.max(Math.hypot(p.from[0], p.from[1] - 36), Math.hypot(p.to[0], p.to[1] - 36))
          : 0,
      ),
    )
    equal += (plan.to * Math.PI * lever) / 180 / (2 * SWEEP_TOLERANCE_MM)
  }
  const more = equal / samples
  const ratio = (a: number, b: number) => `${(a / b).toFixed(1)}×`
  return [
    {
      name: 'checked sweep of a last bend (of six): distance evaluations',
      value: `${Math.round(certified / 12)}`,
    },
    { name: '  time', value: `${(certifiedMs / 12).toFixed(1)} ms` },
    {
      name: 'sampling each 0.1°, nothing known between samples: evaluations',
      value: ratio(sampled, certified),
    },
    { name: '  time', value: ratio(sampledMs, certifiedMs) },
    {
      name: `sampling to the same ${SWEEP_TOLERANCE_MM} mm everywhere (samples reckoned): evaluations`,
      value: ratio(sampled * more, certified),
      aim: '≥ 20×',
    },
    { name: '  time', value: ratio(sampledMs * more, certifiedMs), aim: '≥ 20×' },
  ]
}

function orderFigures(): Figure[] {
  const next = seeded(31)
  return [6, 8, 10, 12].map(bends => {
    const setup = cramped(next, bends)
    const start = performance.now()
    const { examined } = searchOrder(setup)
    const seconds = (performance.now() - start) / 1000
    let orders = 1
    for (let k = 1; k <= bends; k++) orders *= 2 * k
    return {
      name: `best of ${orders.toExponential(1)} orders of ${bends} bends: ${examined} sides examined`,
      value: `${seconds.toFixed(2)} s`,
      ...(bends === 10 ? { aim: '≤ 0.5 s' } : bends === 12 ? { aim: '≤ 2 s' } : {}),
    }
  })
}

/** The bender's check of long runs, as `check` does it: a serpentine that hits, so that both ends leading are tried. */
function longFigures(): Figure[] {
  const bender = benderNamed('bench-left')
  const { tooling, springback } = equipmentFor(bender, 12)
  return [50, 400].map(bends => {
    const rows = {
      straights: Array.from({ length: bends + 1 }, () => 130),
      bends: Array.from({ length: bends }, (_, k) => ({
        angle: 90,
        rotation: k === 0 ? null : k % 4 < 2 ? 179.5 : 2,
      })),
    }
    const run = runFromRows(rows, 36, { insertionA: 0, insertionB: 0, trim: 0 })
    const setup = benchSetup(run, bender, tooling, springback, { trimAt: 'B' })
    const start = performance.now()
    for (const lead of ['A', 'B'] as const) judgeLead(setup, lead)
    return {
      name: `every motion of ${bends} bends, from either end`,
      value: `${((performance.now() - start) / 1000).toFixed(2)} s`,
      aim: bends === 50 ? '≤ 2 s' : '≤ 10 s',
    }
  })
}

function replayFigure(): Figure {
  const next = seeded(3)
  const runs = Array.from({ length: 1000 }, () => randomRun(next, 6))
  const start = performance.now()
  for (const { run, tooling } of runs) {
    const layout = layOut(run, tooling, null, { hand: 'left', kind: 'rotaryDraw', order: orderFrom('A', 6) })
    replay(layout.cutLength, { ...layout, referenceOffset: tooling.referenceOffset }, layout.steps)
  }
  return {
    name: 'lay out and replay a six-bend run',
    value: `${(performance.now() - start).toFixed(0)} µs`,
  }
}
