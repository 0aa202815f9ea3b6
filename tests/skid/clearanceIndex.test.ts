import { expect, test } from 'vitest'
import { addRun, addSolid, editRun, editSolid, removeRun, removeSolid } from '../../src/document/edits.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { clearancePairs, clearances } from '../../src/skid/clearance.ts'
import { createClearanceIndex } from '../../src/skid/clearanceIndex.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { type Random, seeded } from '../random.ts'
import { moveRun, randomDocument, randomPlace, randomRun, randomSolid } from './randomScene.ts'

const SEED = 5150
const SIDE = 700

function edit(random: Random, d: SkidDocument, step: number): SkidDocument {
  const someRun = d.runs[random.whole(0, d.runs.length - 1)]!.id
  const someSolid = d.solids[random.whole(0, d.solids.length - 1)]!.id
  switch (random.whole(0, 6)) {
    case 0:
      return addRun(d, randomRun(random, `n${step}`, randomPlace(random, SIDE), random.whole(0, 4)))
    case 1:
      return d.runs.length > 5 ? removeRun(d, someRun) : d
    case 2:
      return addSolid(d, randomSolid(random, `n${step}`, randomPlace(random, SIDE)))
    case 3:
      return d.solids.length > 5 ? removeSolid(d, someSolid) : d
    case 4:
      return editSolid(d, someSolid, s => ({ ...s, at: randomPlace(random, SIDE), name: `Moved ${step}` }))
    case 5:
      return editRun(d, someRun, r => ({ ...r, tag: `T${step}`, insulation: random.between(0, 30) }))
    default:
      return editRun(d, someRun, r => moveRun(r, randomPlace(random, 60)))
  }
}

test(`after any edit the kept pairs are those of a full check, to the last digit (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let d = randomDocument(random, 20, 8, SIDE)
  const index = createClearanceIndex(80)
  index.update(d, solveDocument(d))
  let pairs = 0
  for (let step = 0; step < 60; step++) {
    d = edit(random, d, step)
    index.update(d, solveDocument(d))
    const kept = clearancePairs(index, d)
    expect(kept, `step ${step}`).toEqual(clearances(d, solveDocument(d), { within: 80 }))
    pairs += kept.length
  }
  expect(pairs).toBeGreaterThan(1000)
})

test('an edit measures again only what the changed part is near to, and nothing when no outside changed', () => {
  const random = seeded(SEED + 1)
  const d = randomDocument(random, 60, 20, 2000)
  const index = createClearanceIndex(80)
  const full = index.update(d, solveDocument(d))
  expect(index.update({ ...d, name: 'Renamed' }, solveDocument(d))).toBe(0)
  const moved = editRun(d, 'r7', r => moveRun(r, [3, 0, 0]))
  const again = index.update(moved, solveDocument(moved))
  expect(again).toBeGreaterThan(0)
  expect(again).toBeLessThan(full / 10)
})
