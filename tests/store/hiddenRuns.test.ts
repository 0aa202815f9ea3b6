import { beforeEach, expect, test } from 'vitest'
import { documentStore } from '../../src/store/documentStore.ts'
import { NOTHING_HIDDEN } from '../../src/store/hiddenRuns.ts'
import { hideRuns, isolateRuns, showAgain } from '../../src/store/runSelection.ts'
import { sessionStore } from '../../src/store/sessionStore.ts'
import { showViewpoint } from '../../src/view/look/viewpointLook.ts'
import { manyRuns } from '../manyRuns.ts'

const hidden = () => [...sessionStore.getState().hiddenRuns].sort()
const forComparison = (...ids: string[]) => sessionStore.getState().hide({ comparison: new Set(ids) })

beforeEach(() => {
  documentStore.getState().open(manyRuns(5))
  sessionStore.getState().hide(NOTHING_HIDDEN)
})

test('what a comparison hides is shown again after it, what was hidden by hand meanwhile stays hidden', () => {
  hideRuns(['run1'], true)
  forComparison('run1', 'run2')
  hideRuns(['run3'], true)
  expect(hidden()).toEqual(['run1', 'run2', 'run3'])
  forComparison()
  expect(hidden()).toEqual(['run1', 'run3'])
})

test('isolating during a comparison and going back leaves the comparison as it was', () => {
  hideRuns(['run4'], true)
  forComparison('run2')
  isolateRuns(new Set(['run2', 'run3']))
  expect(hidden()).toEqual(['run1', 'run2', 'run4', 'run5'])
  forComparison('run3')
  showAgain()
  expect(hidden()).toEqual(['run3', 'run4'])
})

test('a saved view shown during a comparison keeps to what the comparison hides, and ends an isolation', () => {
  const { document } = documentStore.getState()
  isolateRuns(new Set(['run1']))
  forComparison('run2')
  showViewpoint(document, {
    id: 'v1',
    name: 'Corner',
    note: '',
    by: '',
    on: '2026-01-01',
    target: [0, 0, 0],
    yaw: 0,
    pitch: 0,
    span: 1000,
    projection: 'perspective',
    section: null,
    hidden: ['run5'],
  })
  expect(hidden()).toEqual(['run2', 'run5'])
  showAgain()
  expect(hidden()).toEqual(['run2', 'run5'])
})

test('a run that is shown by hand is shown, whatever hid it', () => {
  isolateRuns(new Set(['run1']))
  forComparison('run2')
  hideRuns(['run2', 'run3'], false)
  expect(hidden()).toEqual(['run4', 'run5'])
})
