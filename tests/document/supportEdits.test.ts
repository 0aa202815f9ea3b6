import { expect, test } from 'vitest'
import { removeRun } from '../../src/document/edits.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import { addSupport, editSupport, removeSupport } from '../../src/document/supportEdits.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { sampleDocument } from './sampleDocument.ts'

const skid = sampleDocument()

test('a support is added with an id and a name of its own and the type last used', () => {
  const { document, supportId } = addSupport(skid, 'r2', [0, 500, 100])
  expect(document.supports.at(-1)).toEqual({
    id: supportId,
    name: 'Support 2',
    type: 'clamp 12, invented',
    run: 'r2',
    at: [0, 500, 100],
  })
  expect(document.supports[0]).toBe(skid.supports[0])
  const again = addSupport(document, 'r2', [0, 500, 200]).document
  expect(new Set(again.supports.map(s => s.id)).size).toBe(3)
  expect(new Set(again.supports.map(s => s.name)).size).toBe(3)
})

test('the first support of a skid has a type, so that its file can be read again', () => {
  const { document } = addSupport({ ...skid, supports: [] }, 'r1', [1, 2, 3])
  const read = readDocument(writeDocument(document))
  expect(read.ok && read.document.supports).toEqual(document.supports)
})

test('an edit touches its support alone; taking a run away takes its supports', () => {
  const { document } = addSupport(skid, 'r2', [0, 500, 100])
  const moved = editSupport(document, 'c1', { at: [9, 9, 9] })
  expect(moved.supports[0]!.at).toEqual([9, 9, 9])
  expect(moved.supports[1]).toBe(document.supports[1])
  expect(moved.runs).toBe(document.runs)
  expect(removeSupport(document, 'c1').supports.map(s => s.run)).toEqual(['r2'])
  expect(removeRun(document, 'r2').supports.map(s => s.run)).toEqual(['r1'])
  expect(() => editSupport(skid, 'nobody', {})).toThrow(/no support "nobody"/)
})
