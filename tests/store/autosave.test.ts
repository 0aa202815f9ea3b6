import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import type { Copy } from '../../src/store/copies.ts'

/** Storage that answers when the test says so. */
const puts: { copy: Copy; answer: (error?: unknown) => void }[] = []
vi.mock('../../src/store/copies.ts', () => ({
  putCopy: (copy: Copy) =>
    new Promise<void>((done, fail) => {
      puts.push({ copy, answer: error => (error ? fail(error) : done()) })
    }),
  holdCopy: () => Promise.resolve(() => {}),
  listCopies: () => Promise.resolve([]),
  tidyCopies: () => Promise.resolve(),
}))
const { documentStore } = await import('../../src/store/documentStore.ts')
const { savingStore } = await import('../../src/store/savingStore.ts')
const { startAutosave } = await import('../../src/store/autosave.ts')

let stop = () => {}
beforeEach(async () => {
  vi.useFakeTimers()
  vi.stubGlobal('document', new EventTarget())
  stop = startAutosave()
  documentStore.getState().open(emptyDocument('Opened'))
  await settle()
  puts.length = 0
})
afterEach(async () => {
  stop()
  await settle()
  vi.useRealTimers()
  vi.unstubAllGlobals()
})

/** Lets everything that is due happen, storage answering at once. */
async function settle(): Promise<void> {
  for (let i = 0; i < 20; i++) {
    await vi.advanceTimersByTimeAsync(50)
    for (const put of puts) put.answer()
  }
}
const rename = (name: string) => documentStore.getState().apply('Rename', d => ({ ...d, name }))
const nameIn = ({ copy }: { copy: Copy }) => {
  const read = readDocument(copy.text)
  return read.ok ? read.document.name : 'damaged'
}

test('a burst of edits is kept while it lasts, each write with the newest of then', async () => {
  for (let i = 1; i <= 50; i++) {
    rename(`edit ${i}`)
    await vi.advanceTimersByTimeAsync(33)
    // Every write is through before the next key: at most the edit that is being written is not kept.
    expect(puts.map(nameIn)).toContain(`edit ${i}`)
    puts.at(-1)!.answer()
    await vi.advanceTimersByTimeAsync(0)
  }
})

test('undo that is held is kept while it is held', async () => {
  for (let i = 1; i <= 10; i++) rename(`edit ${i}`)
  await settle()
  puts.length = 0
  for (let i = 9; i >= 1; i--) {
    documentStore.getState().undo()
    await vi.advanceTimersByTimeAsync(33)
    expect(nameIn(puts.at(-1)!)).toBe(`edit ${i}`)
    puts.at(-1)!.answer()
    await vi.advanceTimersByTimeAsync(0)
  }
})

test('where storage is slower than the edits, the next write begins when the one before is through, with the newest', async () => {
  rename('first')
  await vi.advanceTimersByTimeAsync(50)
  expect(puts.map(nameIn)).toEqual(['first'])
  for (const name of ['second', 'third', 'fourth']) {
    rename(name)
    await vi.advanceTimersByTimeAsync(100)
  }
  expect(puts.map(nameIn)).toEqual(['first'])
  puts[0]!.answer()
  await vi.advanceTimersByTimeAsync(0)
  expect(puts.map(nameIn)).toEqual(['first', 'fourth'])
  expect(savingStore.getState().keeping.kind).toBe('underWay')
  puts[1]!.answer()
  await vi.advanceTimersByTimeAsync(0)
  expect(savingStore.getState().keeping.kind).toBe('kept')
})

test('opening another document keeps the last edit of the one before, under its own id', async () => {
  rename('about to be left')
  documentStore.getState().open(emptyDocument('Next'))
  await settle()
  const ids = new Map(puts.map(put => [nameIn(put), put.copy.id]))
  expect([...ids.keys()]).toEqual(['about to be left', 'Next'])
  expect(new Set(ids.values()).size).toBe(2)
})

test('a refused write is offered again, and the edits meanwhile go with it', async () => {
  rename('no room')
  await vi.advanceTimersByTimeAsync(50)
  puts[0]!.answer(new DOMException('full', 'QuotaExceededError'))
  await vi.advanceTimersByTimeAsync(0)
  expect(savingStore.getState().keeping).toEqual({
    kind: 'refused',
    reason: 'the browser’s storage is full',
  })
  rename('room again')
  await settle()
  expect(nameIn(puts.at(-1)!)).toBe('room again')
  expect(savingStore.getState().keeping.kind).toBe('kept')
})
