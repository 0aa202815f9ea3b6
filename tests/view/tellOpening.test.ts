import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { dialogStore, showDialog } from '../../src/view/shell/dialogStore.ts'
import { openingIsOver, tellOpening } from '../../src/view/shell/tellOpening.ts'

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['performance'] })
  showDialog(null)
})
afterEach(() => {
  vi.useRealTimers()
})
const dialog = () => dialogStore.getState().dialog

test('a file that opens within a moment opens without a dialog', () => {
  const goOn = tellOpening('small.json')
  vi.advanceTimersByTime(300)
  expect(goOn(3, 9)).toBe(true)
  expect(dialog()).toBeNull()
})

test('one that takes longer tells how far it is, until it is over', () => {
  const goOn = tellOpening('large.json')
  vi.advanceTimersByTime(900)
  expect(goOn(400, 9000)).toBe(true)
  expect(dialog()).toEqual({ kind: 'opening', name: 'large.json', done: 400, total: 9000 })
  expect(goOn(800, 9000)).toBe(true)
  expect(dialog()).toMatchObject({ done: 800 })
  openingIsOver()
  expect(dialog()).toBeNull()
})

test('closing the dialog calls the opening off, and what is asked then stays in sight', () => {
  const goOn = tellOpening('large.json')
  vi.advanceTimersByTime(900)
  goOn(400, 9000)
  showDialog({ kind: 'samples' })
  expect(goOn(800, 9000)).toBe(false)
  openingIsOver()
  expect(dialog()).toEqual({ kind: 'samples' })
})

test('another file that is opened meanwhile takes its place', () => {
  const first = tellOpening('first.json')
  const second = tellOpening('second.json')
  expect(first(1, 9)).toBe(false)
  expect(second(1, 9)).toBe(true)
})
