import { expect, test } from 'vitest'
import { addModel } from '../../../src/document/modelEdits.ts'
import { emptyDocument } from '../../../src/document/newDocument.ts'
import { bodyId, bodyName } from '../../../src/skid/models/modelBodies.ts'
import { modelPartOf, nameInKey, nameOfBody } from '../../../src/skid/models/nameOfBody.ts'
import { childKeys } from '../../../src/skid/models/partKeys.ts'

const file = {
  fileName: 'x.glb',
  hash: '0'.repeat(64),
  bytes: 1,
  format: 'gltf',
  unitMm: 1,
  up: 'y',
} as const
const { document } = addModel(emptyDocument('x'), { ...file, name: 'Frame', kind: 'structure' })

test.each(['Leg', '50% / #3: "left"', 'Leg#2', 'Ölwanne', '%41'])(
  'the name of part %j comes back out of its key, also where it is the second of that name',
  name => {
    const keyOf = childKeys('Skid/Frame')
    const keys = [keyOf(name), keyOf(name)]
    for (const key of keys) {
      expect(nameInKey(key)).toBe(name)
      expect(nameOfBody(document, bodyId('m1', key))).toBe(
        bodyName(document.models[0]!, ['Skid', 'Frame', name]),
      )
    }
  },
)
test('an id is a model’s, a part’s of a model, or neither', () => {
  expect(modelPartOf(document, 'm1')).toMatchObject({ key: null })
  expect(modelPartOf(document, 'm1/a/b')).toMatchObject({ key: 'a/b' })
  expect(modelPartOf(document, 'm10/a')).toBeNull()
  expect(nameOfBody(document, 's1')).toBeNull()
})
