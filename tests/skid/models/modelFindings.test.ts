import { expect, test } from 'vitest'
import type { Model } from '../../../src/document/types.ts'
import { modelBodies } from '../../../src/skid/models/modelBodies.ts'
import { modelFindings } from '../../../src/skid/models/modelFindings.ts'
import { modelTrees } from '../../../src/skid/models/modelTrees.ts'
import { treesKey } from '../../../src/skid/models/modelTypes.ts'
import { documentOf } from '../../document/sampleDocument.ts'
import { sampleModel } from '../../document/sampleModel.ts'
import { gltfText } from './gltfMade.ts'
import { readHere } from './readHere.ts'

const MODEL = sampleModel('m1', {
  name: 'Pump',
  fileName: 'pump.gltf',
  hash: 'a'.repeat(64),
  format: 'gltf',
  unitMm: 1000,
  up: 'y',
  at: [10, 20, 30],
  turn: [0, 0, 90],
})
const read = await readHere(
  gltfText(json => {
    json['nodes'] = [{ children: [1, 2, 3] }, ...['Body', 'Flange', 'Label'].map(name => ({ name, mesh: 0 }))]
    json['nodes'][0].name = 'Pump'
  }),
  'pump.gltf',
)
const TREES = new Map([[treesKey(MODEL), modelTrees(read, 1000, 'y')]])
const part = (key: string, kind: Model['kind'], fitting: string | null = null) => ({ key, kind, fitting })
const of = (change: Partial<Model>, trees: typeof TREES = TREES) =>
  modelBodies({ ...documentOf([]), models: [{ ...MODEL, ...change }] }, trees)
const said = (bodies: ReturnType<typeof of>, why?: ReadonlyMap<string, string>) =>
  modelFindings(bodies, why).map(f => [f.id, f.rule, f.severity, f.message])

test('every part is a body where the model stands, of the kind said of it or of the model', () => {
  const { bodies } = of({ parts: [part('Pump/Flange', 'fitting', 'f1')] })
  expect(bodies.map(b => [b.id, b.name, b.kind, b.fitting])).toEqual([
    ['m1/Pump/Body', 'Pump: Body', 'equipment', null],
    ['m1/Pump/Flange', 'Pump: Flange', 'fitting', 'f1'],
    ['m1/Pump/Label', 'Pump: Label', 'equipment', null],
  ])
  expect(bodies.map(b => b.placement)).toEqual(Array(3).fill({ at: [10, 20, 30], turn: [0, 0, 90] }))
  expect(said(of({}))).toEqual([])
})

test('a file that is missing is "not checked", with the reason where there is another', () => {
  expect(said(of({}, new Map()))).toEqual([
    [
      'clearance:notChecked:m1',
      'clearanceNotChecked',
      'notChecked',
      'Pump: clearance not checked, its file pump.gltf is missing.',
    ],
  ])
  const why = new Map([[treesKey(MODEL), 'cannot be read (it is cut off)']])
  expect(said(of({}, new Map()), why)[0]?.[3]).toBe(
    'Pump: clearance not checked, its file pump.gltf cannot be read (it is cut off).',
  )
})

test('trees of another unit or axis than the document says are no trees of it', () => {
  expect(of({ unitMm: 1 }).missing).toHaveLength(1)
  expect(of({ up: 'z' }).missing).toHaveLength(1)
})

test('parts left out by choice are no bodies, and one note says how many', () => {
  const some = of({ parts: [part('Pump/Label', 'leftOut')] })
  expect(some.bodies).toHaveLength(2)
  const note = (message: string) => [['modelLeftOut:m1', 'modelLeftOut', 'note', message]]
  expect(said(some)).toEqual(note('Pump: 1 of its 3 parts is left out of the clearance check by choice.'))
  expect(said(of({ kind: 'leftOut', parts: [part('Pump/Body', 'equipment')] }))).toEqual(
    note('Pump: 2 of its 3 parts are left out of the clearance check by choice.'),
  )
  expect(said(of({ kind: 'leftOut' }))).toEqual(
    note('Pump: all of its parts are left out of the clearance check by choice.'),
  )
  // Nothing of it would be measured: that its file is missing changes nothing.
  expect(said(of({ kind: 'leftOut' }, new Map()))).toEqual(said(of({ kind: 'leftOut' })))
})

test('a part that the document speaks of and the file no longer has is a warning, never passed over', () => {
  const gone = of({ parts: [part('Pump/Lid', 'structure'), part('Pump/Label', 'leftOut')] })
  expect(gone.bodies.map(b => b.id)).toEqual(['m1/Pump/Body', 'm1/Pump/Flange'])
  expect(said(gone).at(-1)).toEqual([
    'modelPartGone:m1/Pump/Lid',
    'modelPartGone',
    'warning',
    'Pump: its file pump.gltf has no part "Pump/Lid", which the document gives settings for; it is not checked with them.',
  ])
})
