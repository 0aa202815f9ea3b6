import { createStore } from 'zustand/vanilla'

/** What a screen reader is told. The serial tells a thing said twice from one said once. */
export const spokenStore = createStore<{ readonly text: string; readonly serial: number }>()(() => ({
  text: '',
  serial: 0,
}))

/** The parts as sentences: each begins with a capital and ends with a full stop. */
export const asSentences = (parts: readonly string[]): string =>
  parts
    .map(p => p.trim())
    .filter(p => p !== '')
    .map(p => `${p[0]!.toUpperCase()}${p.slice(1)}${/[.!?…]$/.test(p) ? '' : '.'}`)
    .join(' ')
