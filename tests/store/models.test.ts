import { afterAll, beforeAll, expect, test } from 'vitest'
import { addModel } from '../../src/document/modelEdits.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { modelHash } from '../../src/skid/models/modelHash.ts'
import { createModelJob } from '../../src/skid/models/modelJob.ts'
import { documentStore } from '../../src/store/documentStore.ts'
import { modelStore, stateOfModel } from '../../src/store/modelStore.ts'
import { startModels } from '../../src/store/models.ts'
import { giveModelFile } from '../../src/store/takeModelFile.ts'
import { workersHere } from '../workerHere.ts'

const triangle = (z: number) =>
  `o plate\nv 0 0 ${z}\nv 100 0 ${z}\nv 0 100 ${z}\nf 1 2 3\no lid\nv 0 0 50\nv 10 0 50\nv 0 10 50\nf 4 5 6\n`
const fileOf = (text: string, name: string) => new File([text], name)

async function skidWith(text: string, fileName: string): Promise<SkidDocument> {
  const bytes = new TextEncoder().encode(text)
  const hash = await modelHash(bytes)
  return addModel(emptyDocument('Skid'), {
    name: 'Plates',
    fileName,
    hash,
    bytes: bytes.length,
    format: 'obj',
    unitMm: 1,
    up: 'z',
    kind: 'equipment',
  }).document
}
const open = (document: SkidDocument) => documentStore.getState().open(document)
const stateNow = () => stateOfModel(modelStore.getState(), documentStore.getState().settled.models[0]!)
const until = (kind: string) => expect.poll(() => stateNow().kind).toBe(kind)

let stops: (() => void)[] = []
beforeAll(() => {
  const job = () => createModelJob({ stepKernel: () => Promise.reject(new Error('no STEP in this test')) })
  stops = [workersHere(job), startModels()]
})
afterAll(() => {
  for (const stop of stops) stop()
})

test('a model whose file is not here is missing, another file is refused, and the right one is read', async () => {
  open(await skidWith(triangle(0), 'plates.obj'))
  await until('missing')
  const [model] = documentStore.getState().settled.models
  expect(await giveModelFile(model!, fileOf(triangle(1), 'plates.obj'))).toEqual({ kind: 'other' })
  expect(stateNow().kind).toBe('missing')
  const given = await giveModelFile(model!, fileOf(triangle(0), 'renamed.obj'))
  // Node has no browser storage: the file is used, and it is said that it is not kept.
  expect(given).toEqual({ kind: 'taken', notKept: expect.stringContaining('refuses storage') })
  expect(modelStore.getState().unkept.has(model!.hash)).toBe(true)
  await until('ready')
})

test('what is read has its parts in one drawing, and trees twice in memory of their own', async () => {
  const state = stateNow()
  if (state.kind !== 'ready') throw new Error(`found ${state.kind}, wanted ready`)
  const { drawing, trees, spare, triangles } = state.loaded
  expect(triangles).toBe(2)
  expect(drawing.parts.map(p => [p.names.at(-1), p.from, p.count])).toEqual([
    ['plate', 0, 3],
    ['lid', 3, 3],
  ])
  expect([drawing.low, drawing.high]).toEqual([
    [0, 0, 0],
    [100, 100, 50],
  ])
  expect(spare.trees).toEqual(trees)
  expect(spare.trees![0]!.tree.corners.buffer).not.toBe(trees[0]!.tree.corners.buffer)
})

test('a file that cannot be read as the document says is refused with its reason', async () => {
  const damaged = 'o plate\nv 0 0 0\nf 1 2 9\n'
  open(await skidWith(damaged, 'damaged.obj'))
  await until('missing')
  const [model] = documentStore.getState().settled.models
  expect((await giveModelFile(model!, fileOf(damaged, 'damaged.obj'))).kind).toBe('taken')
  await until('refused')
  const state = stateNow()
  expect(state.kind === 'refused' && state.reason).toMatch(/line 3/)
})

test('another document forgets what was read for the last one', async () => {
  open(emptyDocument('Other'))
  await expect.poll(() => modelStore.getState().states.size).toBe(0)
})
