import { startTransition, useEffect, useState } from 'react'
import type { StoreApi } from 'zustand'
import type { SkidDocument } from '../document/types.ts'
import { clearanceStore } from '../store/clearance.ts'
import { documentStore } from '../store/documentStore.ts'
import { type Findings, findingsOf } from '../store/findings.ts'
import { housingStore } from '../store/housing.ts'

/**
 * Findings of what is shown, with the document that they are about, kept up to date with the workers' answers. While a
 * point is dragged the lists may lag a few frames behind the picture: the picture does not wait for them.
 */
export function useFindings(): Findings & { readonly document: SkidDocument } {
  const document = useCalmly(documentStore, state => state.document)
  const clearance = useCalmly(clearanceStore, state => state)
  useCalmly(housingStore, state => state.answers)
  return { ...findingsOf(document, clearance), document }
}

/** A store's value; while a gesture lasts its changes are drawn when nothing more urgent is to be drawn. */
function useCalmly<S, T>(store: StoreApi<S>, pick: (state: S) => T): T {
  const [value, setValue] = useState(() => pick(store.getState()))
  // biome-ignore lint/correctness/useExhaustiveDependencies: `pick` is written anew at each call and always the same
  useEffect(() => {
    const take = () => {
      const { document, settled } = documentStore.getState()
      const draw = () => setValue(() => pick(store.getState()))
      if (document === settled) draw()
      else startTransition(draw)
    }
    take()
    return store.subscribe(take)
  }, [store])
  return value
}
