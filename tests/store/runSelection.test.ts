import { afterAll, beforeEach, expect, test } from 'vitest'
import { documentStore } from '../../src/store/documentStore.ts'
import {
  isolateRuns,
  pickedOf,
  pickRange,
  pickRuns,
  runSelectionStore,
  showAgain,
  startRangeAt,
  togglePicked,
} from '../../src/store/runSelection.ts'
import { sessionStore } from '../../src/store/sessionStore.ts'
import { forgetWithDocument } from '../../src/store/startStores.ts'
import { manyRuns } from '../manyRuns.ts'

afterAll(forgetWithDocument())

const order = ['run1', 'run2', 'run3', 'run4', 'run5']
const picked = () => [...runSelectionStore.getState().picked].sort()
const hidden = () => [...sessionStore.getState().hiddenRuns].sort()

beforeEach(() => {
  documentStore.getState().open(manyRuns(5))
  sessionStore.getState().hide({ hand: new Set(), isolation: null, comparison: new Set() })
})

test('a range reaches from its start both ways, and shrinks as it is drawn back', () => {
  startRangeAt('run3')
  pickRange(order, 'run5')
  expect(picked()).toEqual(['run3', 'run4', 'run5'])
  pickRange(order, 'run4')
  expect(picked()).toEqual(['run3', 'run4'])
  pickRange(order, 'run1')
  expect(picked()).toEqual(['run1', 'run2', 'run3'])
})

test('a range follows the order of the list, and starts anew when its start is not listed', () => {
  startRangeAt('run3')
  pickRange(['run5', 'run3', 'run1', 'run2'], 'run1')
  expect(picked()).toEqual(['run1', 'run3'])
  pickRange(['run4', 'run5'], 'run5')
  expect(picked()).toEqual(['run5'])
})

test('one by one, runs are picked and let go, and come in the document’s order', () => {
  togglePicked('run4')
  togglePicked('run2')
  const { runs } = documentStore.getState().settled
  expect(pickedOf(runs, runSelectionStore.getState().picked).map(r => r.id)).toEqual(['run2', 'run4'])
  togglePicked('run4')
  expect(picked()).toEqual(['run2'])
})

test('isolating twice and going back gives what was hidden before the first time', () => {
  sessionStore.getState().hide({ hand: new Set(['run2']) })
  isolateRuns(new Set(['run2', 'run3']))
  expect(hidden()).toEqual(['run1', 'run4', 'run5'])
  isolateRuns(new Set(['run5']))
  expect(hidden()).toEqual(['run1', 'run2', 'run3', 'run4'])
  showAgain()
  expect(hidden()).toEqual(['run2'])
})

test('another document starts with nothing picked, though its runs have the same ids', () => {
  pickRuns(['run1', 'run2'])
  documentStore.getState().open(manyRuns(4))
  expect(picked()).toEqual([])
})
