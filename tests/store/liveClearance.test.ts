import { afterAll, expect, test } from 'vitest'
import { editRun, editSolid, movePoint } from '../../src/document/edits.ts'
import type { SkidDocument, Solid } from '../../src/document/types.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { type LiveAnswer, liveClearance } from '../../src/store/liveClearance.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'

// It asks for time between pictures; here any will do.
const before = Reflect.get(globalThis, 'window')
Object.assign(globalThis, { window: globalThis })
afterAll(() => {
  Object.assign(globalThis, { window: before })
})

const block: Solid = {
  id: 's',
  name: 'Block',
  kind: 'equipment',
  fitting: null,
  shape: 'box',
  at: [200, 0, 50],
  size: [100, 100, 20],
  turn: [0, 0, 0],
}
const document: SkidDocument = {
  ...documentOf([
    runOf('r1', [], { endA: { kind: 'free', at: [0, 0, 0] }, endB: { kind: 'free', at: [400, 0, 0] } }),
    runOf('r2', [], { endA: { kind: 'free', at: [0, 900, 0] }, endB: { kind: 'free', at: [400, 900, 0] } }),
  ]),
  solids: [block],
}
const lowered = (z: number) => {
  const d = ['A', 'B'].reduce(
    (now, end) => movePoint(now, 'r1', end, [end === 'A' ? 0 : 400, 0, z]),
    document,
  )
  return d.runs[0]!
}

test('one measurer says of every place of its run how near it comes', async () => {
  let told = 0
  const live = liveClearance(document, 'r1', () => told++)
  const placed = (z: number) => ({ run: lowered(z), solved: solveRun(document, lowered(z)) })
  const first = placed(0)
  expect(live.of(first.run, first.solved).state).toBe('waiting')
  await expect.poll(() => told).toBe(1)
  for (const z of [0, -5, 12]) {
    const { run, solved } = placed(z)
    // On a busy machine a measurement may take longer than is waited for: it is then told a moment later.
    await expect.poll(() => live.of(run, solved).state).not.toBe('waiting')
    const answer: LiveAnswer = live.of(run, solved)
    // The block's underside is at z 40, the tube is 12 thick.
    expect(answer).toMatchObject({ gap: { name: 'Block' } })
    expect('gap' in answer && answer.gap.gap).toBeCloseTo(40 - 6 - z, 6)
  }
  live.stop()
})

test('it holds for as long as only its own run changes', () => {
  const live = liveClearance(document, 'r1', () => {})
  const moved = movePoint(document, 'r1', 'B', [400, 0, 10])
  expect(live.holdsFor(document, 'r1')).toBe(true)
  expect(live.holdsFor(moved, 'r1')).toBe(true)
  expect(live.holdsFor(moved, 'r2')).toBe(false)
  expect(live.holdsFor(movePoint(document, 'r2', 'B', [400, 0, 10]), 'r1')).toBe(false)
  expect(
    live.holdsFor(
      editSolid(document, 's', s => ({ ...s, at: [0, 0, 0] })),
      'r1',
    ),
  ).toBe(false)
  expect(live.holdsFor({ ...document, clearances: { ...document.clearances, equipment: 99 } }, 'r1')).toBe(
    false,
  )
  expect(live.holdsFor({ ...document, runs: document.runs.slice(0, 1) }, 'r1')).toBe(false)
  // What is asked for depends on these of its own.
  expect(
    live.holdsFor(
      editRun(document, 'r1', run => ({ ...run, insulation: 5 })),
      'r1',
    ),
  ).toBe(false)
  const inPort = editRun(document, 'r1', run => ({ ...run, endB: { kind: 'port', fitting: 'f' } }))
  expect(live.holdsFor(inPort, 'r1')).toBe(false)
  live.stop()
})
