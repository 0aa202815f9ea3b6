import { describe, expect, test } from 'vitest'
import {
  addModel,
  editModel,
  editModelParts,
  partOfModel,
  removeModel,
  replaceModelFile,
} from '../../src/document/modelEdits.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'

const file = {
  fileName: 'frame.glb',
  hash: 'a'.repeat(64),
  bytes: 1234,
  format: 'gltf',
  unitMm: 1000,
  up: 'y',
} as const
const added = addModel(emptyDocument('x'), { ...file, name: 'Frame', kind: 'structure' })
const model = () => added.document.models[0]!

describe('models in the document', () => {
  test('a model is added at the origin with an id of its own, and the file takes it', () => {
    const two = addModel(added.document, { ...file, name: 'Second', kind: 'equipment' })
    expect([added.modelId, two.modelId]).toEqual(['m1', 'm2'])
    expect(model()).toMatchObject({ at: [0, 0, 0], turn: [0, 0, 0], parts: [], kind: 'structure' })
    const read = readDocument(writeDocument(two.document))
    expect(read.ok && read.document.models).toEqual(two.document.models)
  })
  test('an edit of a model that is not there is an error that names it', () => {
    expect(() => editModel(added.document, 'm9', m => m)).toThrow(/m9/)
  })
  test('a part is what the whole model is until something else is said about it', () => {
    expect(partOfModel(model(), 'Frame/leg')).toEqual({ key: 'Frame/leg', kind: 'structure', fitting: null })
    const said = editModelParts(added.document, 'm1', ['Frame/leg', 'Frame/top'], { kind: 'keepOut' })
    expect(said.models[0]!.parts).toEqual([
      { key: 'Frame/leg', kind: 'keepOut', fitting: null },
      { key: 'Frame/top', kind: 'keepOut', fitting: null },
    ])
    expect(partOfModel(said.models[0]!, 'Frame/leg').kind).toBe('keepOut')
    const mixed = editModelParts(said, 'm1', ['Frame/leg'], { fitting: 'f1' })
    expect(partOfModel(mixed.models[0]!, 'Frame/leg')).toMatchObject({ kind: 'keepOut', fitting: 'f1' })
  })
  test('a part that is again like the whole model is no exception any more; others keep theirs', () => {
    const said = editModelParts(added.document, 'm1', ['a', 'b'], { kind: 'leftOut' })
    const back = editModelParts(said, 'm1', ['a'], { kind: 'structure' })
    expect(back.models[0]!.parts.map(p => p.key)).toEqual(['b'])
    const all = editModel(back, 'm1', m => ({ ...m, kind: 'leftOut' }))
    expect(partOfModel(all.models[0]!, 'b').kind).toBe('leftOut')
    expect(all.models[0]!.parts).toHaveLength(1)
  })
  test('saying what is so already gives the same document back: no step of history', () => {
    expect(editModelParts(added.document, 'm1', ['a'], { kind: 'structure' })).toBe(added.document)
    const said = editModelParts(added.document, 'm1', ['a'], { kind: 'floor' })
    expect(editModelParts(said, 'm1', ['a'], { kind: 'floor' })).toBe(said)
  })
  test('another file keeps place, turn, kind and what was said about parts', () => {
    const placed = editModel(editModelParts(added.document, 'm1', ['a'], { kind: 'floor' }), 'm1', m => ({
      ...m,
      at: [1, 2, 3],
      turn: [0, 0, 90],
    }))
    const next = replaceModelFile(placed, 'm1', { ...file, hash: 'b'.repeat(64), fileName: 'frame-2.glb' })
    expect(next.models[0]).toMatchObject({
      hash: 'b'.repeat(64),
      fileName: 'frame-2.glb',
      at: [1, 2, 3],
      turn: [0, 0, 90],
      kind: 'structure',
      parts: [{ key: 'a', kind: 'floor', fitting: null }],
    })
  })
  test('a removed model takes nothing else with it', () => {
    const two = addModel(added.document, { ...file, name: 'Second', kind: 'equipment' })
    expect(removeModel(two.document, 'm1').models).toEqual([two.document.models[1]])
  })
})
