import { describe, expect, it } from 'vitest'
import { farEndOff } from '../../src/bench/farEnd.ts'
import { stockOf } from '../../src/bench/layOut.ts'
import { runFromRows } from './randomRun.ts'

const EXTRAS = { insertionA: 0, insertionB: 0, trim: 0 }

describe('how far a measured angle puts the far end off', () => {
  it('agrees with the chord of half a degree at a metre, to the little that the bend itself moves', () => {
    // 1000 mm at 0.5° is 8.7266 mm off (chord, computed independently); the bend adds and takes below 0.2 mm.
    const run = runFromRows({ straights: [200, 1000], bends: [{ angle: 90, rotation: null }] }, 36, EXTRAS)
    const stock = stockOf(run)
    expect(Math.abs(farEndOff(stock, [90], [89.5]) - 8.7266)).toBeLessThan(0.35)
  })

  it('is nothing when every bend settles as wanted or is not measured yet', () => {
    const run = runFromRows(
      {
        straights: [80, 120, 90],
        bends: [
          { angle: 40, rotation: null },
          { angle: 75, rotation: 33 },
        ],
      },
      30,
      EXTRAS,
    )
    const stock = stockOf(run)
    const wanted = run.route!.bends.map(b => b.angle)
    expect(farEndOff(stock, wanted, [null, null])).toBe(0)
    expect(farEndOff(stock, wanted, wanted)).toBe(0)
    expect(farEndOff(stock, wanted, [41, null])).toBeGreaterThan(1)
  })

  it('cancels an angle that is over in one bend and under in the next of a level offset, but for the sideways step', () => {
    const run = runFromRows(
      {
        straights: [100, 200, 100],
        bends: [
          { angle: 30, rotation: null },
          { angle: 30, rotation: 180 },
        ],
      },
      36,
      EXTRAS,
    )
    const stock = stockOf(run)
    const both = farEndOff(stock, [30, 30], [31, 31])
    // The last straight is parallel again: the step is near (200 + 2T)·1°, less than one bend alone gives.
    expect(both).toBeLessThan(farEndOff(stock, [30, 30], [31, 30]))
    expect(both).toBeGreaterThan(2)
  })

  it('refuses an angle that no bend has', () => {
    const run = runFromRows({ straights: [50, 50], bends: [{ angle: 90, rotation: null }] }, 20, EXTRAS)
    const stock = stockOf(run)
    expect(() => farEndOff(stock, [90], [190])).toThrow('bend 1: found a settled angle of 190°')
  })
})
