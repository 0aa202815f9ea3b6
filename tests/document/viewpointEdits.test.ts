import { expect, test } from 'vitest'
import { readDocument } from '../../src/document/readDocument.ts'
import {
  addViewpoint,
  changeViewpoint,
  freshViewName,
  type Look,
  moveViewpoint,
  removeViewpoint,
} from '../../src/document/viewpointEdits.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { sampleDocument } from './sampleDocument.ts'

const look: Look = {
  name: 'Under the rack',
  note: 'the clamp is in the way',
  by: 'A. Reviewer',
  on: '2026-11-25',
  target: [1, 2, 3],
  yaw: -200.5,
  pitch: -90,
  span: 12.75,
  projection: 'perspective',
  section: null,
  hidden: ['r2'],
}

test('a saved view gets an id of its own, comes last, and is the same after writing and reading', () => {
  const before = sampleDocument()
  const { document, id } = addViewpoint(before, look)
  expect(document.viewpoints.at(-1)).toEqual({ id, ...look })
  expect(new Set(document.viewpoints.map(w => w.id)).size).toBe(2)
  expect(document.runs).toBe(before.runs)
  const read = readDocument(writeDocument(document))
  expect(read.ok && read.document.viewpoints).toEqual(document.viewpoints)
})

test('its words change and it can be taken again; the id and the other views stay', () => {
  const { document, id } = addViewpoint(sampleDocument(), look)
  const renamed = changeViewpoint(document, id, { name: 'From below', span: 900, section: null })
  expect(renamed.viewpoints.at(-1)).toEqual({ id, ...look, name: 'From below', span: 900 })
  expect(renamed.viewpoints[0]).toBe(document.viewpoints[0])
})

test('views are put in order, and at either end stay where they are', () => {
  let { document } = addViewpoint(sampleDocument(), look)
  document = addViewpoint(document, { ...look, name: 'Third' }).document
  const names = (d: typeof document) => d.viewpoints.map(w => w.name)
  const [first, , third] = document.viewpoints.map(w => w.id) as [string, string, string]
  expect(names(moveViewpoint(document, third, -1))).toEqual(['Behind the pump', 'Third', 'Under the rack'])
  expect(names(moveViewpoint(document, first, 2))).toEqual(['Under the rack', 'Third', 'Behind the pump'])
  expect(moveViewpoint(document, first, -1)).toBe(document)
  expect(moveViewpoint(document, third, 1)).toBe(document)
})

test('a removed view is gone; one that is not there is refused by name', () => {
  const document = sampleDocument()
  expect(removeViewpoint(document, 'w1').viewpoints).toEqual([])
  for (const edit of [removeViewpoint, (d: typeof document, id: string) => moveViewpoint(d, id, 1)])
    expect(() => edit(document, 'nowhere')).toThrow('no saved view "nowhere"')
  expect(() => changeViewpoint(document, 'nowhere', {})).toThrow('no saved view "nowhere"')
})

test('a new name is one that no view has; more views than a file may hold are refused', () => {
  const document = sampleDocument()
  expect(freshViewName(document)).toBe('View 2')
  const named = addViewpoint(document, { ...look, name: 'View 3' }).document
  expect(freshViewName(named)).toBe('View 4')
  const full = { ...document, viewpoints: Array.from({ length: 1000 }, (_, i) => ({ id: `w${i}`, ...look })) }
  expect(() => addViewpoint(full, look)).toThrow('at most 1000')
})
