import { type BenchSetup, benchSetup } from '../../src/bender/housing.ts'
import { benderNamed, equipmentFor } from './benders.ts'
import { runFromRows } from './randomRun.ts'

/** A random run of this many bends, short straights among them, on the left-hand bench bender or another. */
export function cramped(next: () => number, bends: number, bender = benderNamed('bench-left')): BenchSetup {
  const { tooling, springback } = equipmentFor(bender, 12)
  const rows = {
    straights: Array.from({ length: bends + 1 }, () => 45 + 160 * next()),
    bends: Array.from({ length: bends }, (_, k) => ({
      angle: 30 + 90 * next(),
      rotation: k === 0 ? null : -180 + 360 * next(),
    })),
  }
  const run = runFromRows(rows, 36, { insertionA: 10, insertionB: 10, trim: 0 })
  return benchSetup(run, bender, tooling, springback, { trimAt: 'B' })
}
