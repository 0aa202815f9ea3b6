import { afterAll, afterEach, expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import { documentStore } from '../../src/store/documentStore.ts'
import { sheetStore } from '../../src/store/sheetStore.ts'
import { forgetWithDocument } from '../../src/store/startStores.ts'

afterAll(forgetWithDocument())

const OLD = { code: 'ABC', runId: 'run1', copy: null }

afterEach(() => documentStore.getState().open(emptyDocument('Untitled skid')))

test('a sheet in doubt is forgotten when another document is opened', () => {
  sheetStore.setState({ old: OLD })
  documentStore.getState().open(emptyDocument('Another skid'))
  expect(sheetStore.getState().old).toBeNull()
})

test('edits and undoing them leave a sheet in doubt until someone has decided', () => {
  documentStore.getState().open(emptyDocument('A skid'))
  sheetStore.setState({ old: OLD })
  documentStore.getState().apply('Rename', d => ({ ...d, name: 'Renamed' }))
  documentStore.getState().undo()
  expect(sheetStore.getState().old).toBe(OLD)
})
