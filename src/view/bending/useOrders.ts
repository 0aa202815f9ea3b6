import { useEffect, useRef, useState } from 'react'
import type { OrderSearchResult } from '../../bender/orderSearch.ts'
import { startBenchJob } from './benchJobs.ts'
import type { Programme } from './programme.ts'

/** Up to this many bends the search is quick enough to start by itself. */
const BY_ITSELF_BENDS = 7

export type Searching =
  | { readonly kind: 'idle' }
  | { readonly kind: 'running'; readonly percent: number }
  | { readonly kind: 'known'; readonly found: OrderSearchResult }
  | { readonly kind: 'notChecked'; readonly reason: string }

const kept = new Map<string, OrderSearchResult>()

/** The search for the best order of bends, in a worker: started by itself for few bends, by hand for many. */
export function useOrders(programme: Programme): {
  readonly searching: Searching
  start(): void
  cancel(): void
} {
  const { solved, bender, tooling, springback } = programme
  const key = JSON.stringify([solved, bender, tooling, springback])
  const [state, setState] = useState<{ key: string; searching: Searching }>({
    key: '',
    searching: { kind: 'idle' },
  })
  const end = useRef<(() => void) | null>(null)

  const start = () => {
    end.current?.()
    setState({ key, searching: { kind: 'running', percent: 0 } })
    end.current = startBenchJob(
      { kind: 'orders', work: { solved, bender, tooling, springback } },
      {
        answer: ({ found }) => {
          kept.set(key, found)
          setState({ key, searching: { kind: 'known', found } })
        },
        notChecked: reason => setState({ key, searching: { kind: 'notChecked', reason } }),
        progress: percent => setState({ key, searching: { kind: 'running', percent } }),
      },
    )
  }
  const cancel = () => {
    end.current?.()
    end.current = null
    setState({ key, searching: { kind: 'idle' } })
  }

  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says when the work is another one
  useEffect(() => {
    if (!kept.has(key) && programme.layout.steps.length <= BY_ITSELF_BENDS) start()
    return () => end.current?.()
  }, [key])

  const found = kept.get(key)
  const searching: Searching = found
    ? { kind: 'known', found }
    : state.key === key
      ? state.searching
      : { kind: 'idle' }
  return { searching, start, cancel }
}
