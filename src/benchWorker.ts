import { clearStep, type StepClearance } from './bench/clearStep.ts'
import { benchSetup } from './bench/housing.ts'
import type { OrderedBend } from './bench/layOut.ts'
import { type OrderSearchResult, searchOrder } from './bench/orderSearch.ts'
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
export type BenchRequest =
  | {
      readonly id: number
      readonly kind: 'clearances'
      readonly work: BenchWork
      readonly order: readonly OrderedBend[]
    }
  | { readonly id: number; readonly kind: 'orders'; readonly work: BenchWork }

export type BenchAnswer =
  | { readonly id: number; readonly kind: 'progress'; readonly done: number; readonly of: number }
  | { readonly id: number; readonly kind: 'clearances'; readonly steps: readonly StepClearance[] }
  | { readonly id: number; readonly kind: 'orders'; readonly found: OrderSearchResult }
  | { readonly id: number; readonly kind: 'failed'; readonly reason: string }

/** Does one job. Cancelling is ending the worker: a job never waits for messages. */
export function doBenchJob(request: BenchRequest, answer: (answer: BenchAnswer) => void): void {
  const { id } = request
  try {
    answer(request.kind === 'clearances' ? clearances(request, answer) : orders(request, answer))
  } catch (error) {
    answer({ id, kind: 'failed', reason: error instanceof Error ? error.message : String(error) })
  }
}

function clearances(
  { id, work, order }: BenchRequest & { kind: 'clearances' },
  answer: (answer: BenchAnswer) => void,
): BenchAnswer {
  const setup = setupOf(work, order[0]?.lead === 'B' ? 'A' : 'B')
  const done = new Set<number>()
  const steps = order.map((step, i): StepClearance => {
    const made = new Set(done)
    const found = clearStep(setup, { ...step, before: order[i - 1] ?? null, made: bend => made.has(bend) })
    done.add(step.bend)
    answer({ id, kind: 'progress', done: i + 1, of: order.length })
    return found
  })
  return { id, kind: 'clearances', steps }
}

function orders(
  { id, work }: BenchRequest & { kind: 'orders' },
  answer: (answer: BenchAnswer) => void,
): BenchAnswer {
  let told = -1
  const found = searchOrder(setupOf(work, 'B'), {
    onProgress: share => {
      const done = Math.floor(100 * share)
      if (done > told) answer({ id, kind: 'progress', done, of: 100 })
      told = Math.max(told, done)
      return true
    },
  })
  return { id, kind: 'orders', found }
}

const setupOf = ({ solved, bender, tooling, springback }: BenchWork, trimAt: 'A' | 'B') =>
  benchSetup(solved, bender, tooling, springback, { trimAt })

if (typeof WorkerGlobalScope !== 'undefined' && self instanceof WorkerGlobalScope)
  self.onmessage = (event: MessageEvent<BenchRequest>) =>
    doBenchJob(event.data, answer => {
      self.postMessage(answer)
    })
