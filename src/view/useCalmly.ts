import { startTransition, useEffect, useState } from 'react'
import type { StoreApi } from 'zustand'
import type { SkidDocument } from '../document/types.ts'
import { documentStore } from '../store/documentStore.ts'

/**
 * How often lists and tables follow while a gesture lasts, ms. Picture, unrolled tube and the figures at the cursor
 * follow every move; what nobody looks at while dragging must not slow them down.
 */
const FOLLOW_MS = 200

const waiting = new Set<() => void>()
let isDue = false

/** All that waits is drawn together, when nothing more urgent is to be drawn. */
function drawLater(draw: () => void): void {
  waiting.add(draw)
  if (isDue) return
  isDue = true
  setTimeout(() => {
    isDue = false
    const all = [...waiting]
    waiting.clear()
    startTransition(() => {
      for (const each of all) each()
    })
  }, FOLLOW_MS)
}

/** A store's value, at once; while a gesture lasts some five times a second, and at once again when it is over. */
export function useCalmly<S, T>(store: StoreApi<S>, pick: (state: S) => T): T {
  const [value, setValue] = useState(() => pick(store.getState()))
  // biome-ignore lint/correctness/useExhaustiveDependencies: `pick` is written anew at each call and always the same
  useEffect(() => {
    const draw = () => setValue(() => pick(store.getState()))
    const take = () => {
      const { document, settled } = documentStore.getState()
      if (document !== settled) return drawLater(draw)
      waiting.delete(draw)
      draw()
    }
    take()
    const stop = store.subscribe(take)
    return () => {
      stop()
      waiting.delete(draw)
    }
  }, [store])
  return value
}

/** What the screen shows, for lists, tables and fields. */
export const useShownCalmly = (): SkidDocument => useCalmly(documentStore, state => state.document)
