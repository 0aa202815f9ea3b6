import { afterAll, expect, test } from 'vitest'
import type { SkidDocument } from '../../src/document/types.ts'
import { triangleTree } from '../../src/geometry/triangleTree.ts'
import { type ClearanceRequest, createClearanceJob } from '../../src/skid/clearanceJob.ts'
import { measureBetween } from '../../src/skid/measureBetween.ts'
import { treesKey } from '../../src/skid/models/modelTypes.ts'
import { copiedTree } from '../../src/skid/models/treeMemory.ts'
import { startClearance } from '../../src/store/clearance.ts'
import { documentStore } from '../../src/store/documentStore.ts'
import { dropWish, measuredPair, measuredStore } from '../../src/store/measured.ts'
import type { Pair } from '../../src/store/measureStore.ts'
import { meshBodiesOf } from '../../src/store/meshBodies.ts'
import { type LoadedModel, modelStore } from '../../src/store/modelStore.ts'
import { documentOf } from '../document/sampleDocument.ts'
import { sampleModel } from '../document/sampleModel.ts'
import { waveMesh } from '../skid/waveMesh.ts'
import { type WorkerHere, workersHere } from '../workerHere.ts'

const workers: WorkerHere[] = []
afterAll(workersHere(() => createClearanceJob(), workers))
const measureRequests = () =>
  workers.flatMap(w =>
    w.told.filter(m => m.kind === 'ask' && (m.request as ClearanceRequest).kind === 'measure'),
  )

const model = (id: string, hash: string) =>
  sampleModel(id, { name: id, hash: hash.repeat(64), at: [0, 0, 300] })
const document: SkidDocument = {
  ...documentOf([]),
  models: [model('small', 'a'), model('large', 'b')],
  solids: [
    {
      id: 's',
      name: 'Floor',
      kind: 'floor',
      fitting: null,
      shape: 'plane',
      at: [0, 0, 0],
      normal: [0, 0, 1],
    },
  ],
}
const loaded = (cells: number): LoadedModel => {
  const { positions, indices } = waveMesh(cells, 600)
  const part = { key: 'skin', names: ['skin'], tree: triangleTree(positions, indices) }
  // Nothing is drawn here.
  const undrawn = {} as LoadedModel['drawing']
  return {
    drawing: undrawn,
    trees: [part],
    spare: { trees: [copiedTree(part)] },
    triangles: indices.length / 3,
    notes: [],
  }
}
const settled = (count: number) => expect.poll(() => measuredStore.getState().known.size).toBe(count)
const floorTo = (id: string): Pair => [
  { kind: 'solid', solid: 's' },
  { kind: 'model', model: id },
]

test('a large model is measured in the worker, to the same figures; a small one at once', async () => {
  documentStore.setState({ document, settled: document })
  modelStore.setState({
    states: new Map([
      [treesKey(document.models[0]!), { kind: 'ready' as const, loaded: loaded(20) }],
      [treesKey(document.models[1]!), { kind: 'ready' as const, loaded: loaded(120) }],
    ]),
  })
  const { bodies } = meshBodiesOf(document)
  // No worker yet: it says so, and is asked again for another document.
  expect(measuredPair(document, bodies, floorTo('large'))).toBeNull()
  await settled(1)
  expect(measuredPair(document, bodies, floorTo('large'))).toHaveProperty('refused')

  const stop = startClearance()
  const other = { ...document, note: 'another' }
  expect(measuredPair(other, bodies, floorTo('small'))).toHaveProperty('gap')
  expect(measuredPair(other, bodies, floorTo('large'))).toBeNull()
  await expect.poll(() => measuredPair(other, bodies, floorTo('large'))).not.toBeNull()
  const here = measureBetween(other, [], ...floorTo('large'), bodies)
  expect(measuredPair(other, bodies, floorTo('large'))).toEqual(here)
  expect(here).toHaveProperty('gap')
  stop()
})

test('what is no longer wanted is not asked; the newest answers are kept', async () => {
  const stop = startClearance()
  const { bodies } = meshBodiesOf(document)
  const from = measureRequests().length
  const place = (n: number): Pair => [
    { kind: 'place', at: [n, 0, 0], name: 'place' },
    { kind: 'model', model: 'large' },
  ]
  for (let n = 0; n < 10; n++) {
    if (n > 0) dropWish(place(n - 1))
    measuredPair(document, bodies, place(n))
  }
  await expect.poll(() => measuredPair(document, bodies, place(9))).not.toBeNull()
  expect(measureRequests().slice(from)).toHaveLength(1)
  for (let n = 0; n < 40; n++) {
    measuredPair(document, bodies, place(n))
    await expect.poll(() => measuredPair(document, bodies, place(n))).not.toBeNull()
  }
  expect(measuredStore.getState().known.size).toBeLessThanOrEqual(24)
  stop()
})
