import { clearStep, type StepClearance } from './bench/clearStep.ts'
import { benchSetup } from './bench/housing.ts'
import type { OrderedBend } from './bench/layOut.ts'
import type { Bender, Springback, Tooling } from './document/types.ts'
import type { SolvedRun } from './solve/types.ts'

/** A run on a bender, as the worker needs it: plain data only. */
export interface BenchWork {
  readonly solved: SolvedRun
  readonly bender: Bender
  readonly tooling: Tooling
  readonly springback: Springback | null
}

/** One job at the bench. `id` numbers the request: every answer carries it. */
export interface BenchRequest {
  readonly id: number
  readonly kind: 'clearances'
  readonly work: BenchWork
  readonly order: readonly OrderedBend[]
}

export type BenchAnswer =
  | { readonly id: number; readonly kind: 'progress'; readonly done: number; readonly of: number }
  | { readonly id: number; readonly kind: 'clearances'; readonly steps: readonly StepClearance[] }
  | { readonly id: number; readonly kind: 'failed'; readonly reason: string }

/** Does one job. Cancelling is ending the worker: a job never waits for messages. */
export function doBenchJob(request: BenchRequest, answer: (answer: BenchAnswer) => void): void {
  const { id, work, order } = request
  try {
    const setup = benchSetup(work.solved, work.bender, work.tooling, work.springback, {
      trimAt: order[0]?.lead === 'B' ? 'A' : 'B',
    })
    const done = new Set<number>()
    const steps = order.map((step, i) => {
      const made = new Set(done)
      const found = clearStep(setup, {
        bend: step.bend,
        lead: step.lead,
        before: order[i - 1] ?? null,
        made: bend => made.has(bend),
      })
      done.add(step.bend)
      answer({ id, kind: 'progress', done: i + 1, of: order.length })
      return found
    })
    answer({ id, kind: 'clearances', steps })
  } catch (error) {
    answer({ id, kind: 'failed', reason: error instanceof Error ? error.message : String(error) })
  }
}

if (typeof WorkerGlobalScope !== 'undefined' && self instanceof WorkerGlobalScope)
  self.onmessage = (event: MessageEvent<BenchRequest>) =>
    doBenchJob(event.data, answer => {
      self.postMessage(answer)
    })
