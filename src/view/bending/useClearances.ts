import { useEffect, useState } from 'react'
import type { StepClearance } from '../../bender/clearStep.ts'
import { orderOf } from '../../bender/layOut.ts'
import { startBenchJob } from './benchJobs.ts'
import type { Programme } from './programme.ts'

/** What is known about the tube's clearance from the bender for a programme. */
export type Clearing =
  | { readonly kind: 'running'; readonly done: number; readonly of: number }
  | { readonly kind: 'known'; readonly steps: readonly StepClearance[] }
  | { readonly kind: 'notChecked'; readonly reason: string }

const kept = new WeakMap<Programme, Clearing>()

/** Clearances of every step over its whole motions, worked out in a worker; a newer programme ends the older one's work. */
export function useClearances(programme: Programme | null): Clearing {
  const [, redraw] = useState(0)
  useEffect(() => {
    if (!programme || kept.get(programme)?.kind === 'known') return
    const { bender, layout } = programme
    const put = (clearing: Clearing) => {
      kept.set(programme, clearing)
      redraw(n => n + 1)
    }
    if (bender.housing.length + bender.arm.length === 0 && bender.benchTop === null) {
      put({ kind: 'notChecked', reason: `${bender.name} has no solids to check against` })
      return
    }
    const order = orderOf(layout)
    put({ kind: 'running', done: 0, of: order.length })
    const { solved, tooling, springback } = programme
    return startBenchJob(
      { kind: 'clearances', work: { solved, bender, tooling, springback }, order },
      {
        answer: ({ steps }) => put({ kind: 'known', steps }),
        notChecked: reason => put({ kind: 'notChecked', reason }),
        progress: (done, of) => put({ kind: 'running', done, of }),
      },
    )
  }, [programme])
  return (
    (programme && kept.get(programme)) ?? {
      kind: 'running',
      done: 0,
      of: programme?.layout.steps.length ?? 0,
    }
  )
}
