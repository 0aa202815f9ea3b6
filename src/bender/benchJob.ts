import type { Bender, Springback, Tooling } from '../document/types.ts'
import type { OrderedBend } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'
import { clearStep, type StepClearance, type Ways } from './clearStep.ts'
import { benchSetup } from './housing.ts'
import { type OrderSearchResult, searchOrder } from './orderSearch.ts'

/** A run on a bender, as the worker needs it: plain data only. */
export interface BenchWork {
  readonly solved: SolvedRun
  readonly bender: Bender
  readonly tooling: Tooling
  readonly springback: Springback | null
}

/** One job at the bench. */
export type BenchRequest =
  | {
      readonly kind: 'clearances'
      readonly work: BenchWork
      readonly order: readonly OrderedBend[]
      /** Which way half turns go whose way the order does not say; clockwise when left out. */
      readonly ways?: Ways
    }
  | { readonly kind: 'orders'; readonly work: BenchWork }

export interface BenchProgress {
  readonly done: number
  readonly of: number
}

export type BenchAnswer =
  | { readonly kind: 'clearances'; readonly steps: readonly StepClearance[] }
  | { readonly kind: 'orders'; readonly found: OrderSearchResult }

/** Does one job; throws where the work cannot be set up. Cancelling is ending the worker: a job never waits for messages. */
export function doBenchJob(request: BenchRequest, tell: (progress: BenchProgress) => void): BenchAnswer {
  return request.kind === 'clearances' ? clearances(request, tell) : orders(request, tell)
}

function clearances(
  { work, order, ways = 'clockwise' }: BenchRequest & { kind: 'clearances' },
  tell: (progress: BenchProgress) => void,
): BenchAnswer {
  const setup = setupOf(work, order[0]?.lead === 'B' ? 'A' : 'B')
  const done = new Set<number>()
  const steps = order.map((step, i): StepClearance => {
    const made = new Set(done)
    const state = { ...step, before: order[i - 1] ?? null, made: (bend: number) => made.has(bend) }
    const found = clearStep(setup, state, ways)
    done.add(step.bend)
    tell({ done: i + 1, of: order.length })
    return found
  })
  return { kind: 'clearances', steps }
}

function orders(
  { work }: BenchRequest & { kind: 'orders' },
  tell: (progress: BenchProgress) => void,
): BenchAnswer {
  let told = -1
  const found = searchOrder(setupOf(work, 'B'), {
    onProgress: share => {
      const done = Math.floor(100 * share)
      if (done > told) tell({ done, of: 100 })
      told = Math.max(told, done)
      return true
    },
  })
  return { kind: 'orders', found }
}

const setupOf = ({ solved, bender, tooling, springback }: BenchWork, trimAt: 'A' | 'B') =>
  benchSetup(solved, bender, tooling, springback, { trimAt })
