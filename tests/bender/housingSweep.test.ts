import { expect, test } from 'vitest'
import { sweep } from '../../src/bender/sweep.ts'
import { denseLeast } from './dense.ts'
import { seeded } from './random.ts'
import { randomScene } from './scenes.ts'

const environment: { DOGLEG_SEED?: string; DOGLEG_SCENES?: string } = process.env
const SEED = Number(environment.DOGLEG_SEED ?? 4711)
/** `DOGLEG_SCENES=10000` is the long run; this many keep the suite quick. */
const SCENES = Number(environment.DOGLEG_SCENES ?? 300)
/** How far under the truth the certified figure may lie. */
const WITHIN_MM = 0.05
/** Sampling only ever finds too much clearance: where it looks too good it samples again, more densely. */
const GRIDS = [
  { times: 40, lengths: 16, sections: 12, throws: 25 },
  { times: 200, lengths: 30, sections: 24, throws: 200 },
  { times: 1000, lengths: 40, sections: 36, throws: 1000 },
  // Sixteen scenes of ten thousand come this far: deep contacts, where a coarser grid steps past the deepest point.
  { times: 1500, lengths: 100, sections: 100, throws: 3000 },
]

test(`certified clearance never exceeds dense sampling and lies within ${WITHIN_MM} mm of it: ${SCENES} scenes, seed ${SEED}`, () => {
  const next = seeded(SEED)
  let contacts = 0
  const bad: string[] = []
  for (let i = 0; i < SCENES; i++) {
    const { jobs, radius } = randomScene(next)
    const result = sweep(jobs, radius)
    if (result === null) throw new Error('a scene with a solid has a clearance')
    if (result.found < 0) contacts++
    let dense = Number.POSITIVE_INFINITY
    for (const grid of GRIDS) {
      dense = Math.min(dense, denseLeast(jobs, radius, grid))
      if (dense - result.atLeast <= WITHIN_MM) break
    }
    if (!(result.atLeast <= dense + 1e-9 && dense - result.atLeast <= WITHIN_MM))
      bad.push(`scene ${i}: certified ${result.atLeast}, dense ${dense}, ${jobs[0]!.motion.kind}`)
  }
  expect(bad).toEqual([])
  expect(contacts).toBeGreaterThan(SCENES / 20)
  expect(contacts).toBeLessThan((SCENES * 19) / 20)
}, 3_600_000)
