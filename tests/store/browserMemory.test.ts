import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { browserMemory } from '../../src/store/browserMemory.ts'

const before = Object.getOwnPropertyDescriptor(globalThis, 'localStorage')
afterEach(() => {
  if (before) Object.defineProperty(globalThis, 'localStorage', before)
  else Reflect.deleteProperty(globalThis, 'localStorage')
})
const storage = (get: () => unknown) =>
  Object.defineProperty(globalThis, 'localStorage', { configurable: true, get })

test('what the browser denies lasts as long as the page, and the reason comes back', () => {
  storage(() => {
    throw new DOMException('denied', 'SecurityError')
  })
  expect(browserMemory.text('denied')).toBeNull()
  expect(browserMemory.keep('denied', { a: 1 })).toBe('the browser refuses storage (denied)')
  expect(browserMemory.value('denied')).toEqual({ a: 1 })
  browserMemory.forget('denied')
  expect(browserMemory.value('denied')).toBeNull()
})

test('a full storage keeps the newest in memory over the older that it holds, until there is room', () => {
  const held = new Map([['full', '"old"']])
  let room = false
  storage(() => ({
    getItem: (name: string) => held.get(name) ?? null,
    setItem: (name: string, text: string) => {
      if (!room) throw new DOMException('no room', 'QuotaExceededError')
      held.set(name, text)
    },
    removeItem: (name: string) => void held.delete(name),
  }))
  expect(browserMemory.keep('full', 'new')).toBe('the browser’s storage is full')
  expect(browserMemory.value('full')).toBe('new')
  room = true
  expect(browserMemory.keep('full', 'newer')).toBeNull()
  expect(held.get('full')).toBe('"newer"')
  held.set('full', 'no JSON')
  expect(browserMemory.value('full')).toBeNull()
})

test('nothing else reaches for the small storage of the browser', () => {
  const src = join(import.meta.dirname, '../../src')
  const users = readdirSync(src, { recursive: true, encoding: 'utf8' })
    .filter(file => /\.tsx?$/.test(file))
    .filter(file => /\b(local|session)Storage\b/.test(readFileSync(join(src, file), 'utf8')))
  expect(users.map(file => file.replaceAll('\\', '/'))).toEqual(['store/browserMemory.ts'])
})
