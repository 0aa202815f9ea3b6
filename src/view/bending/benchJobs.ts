import type { BenchAnswer, BenchProgress, BenchRequest } from '../../bender/benchJob.ts'
import { workerClient } from '../../workers/workerClient.ts'

export interface BenchTold<A extends BenchAnswer> {
  readonly answer: (answer: A) => void
  /** Why there is no answer. One may still come: where the worker died, another is asked the same. */
  readonly notChecked: (reason: string) => void
  readonly progress?: (done: number, of: number) => void
}

const start = () => new Worker(new URL('../../workers/benchWorker.ts', import.meta.url), { type: 'module' })

/** Starts a bench job in a worker of its own. Gives what ends it at once. */
export function startBenchJob<R extends BenchRequest>(
  request: R,
  told: BenchTold<BenchAnswer & { readonly kind: R['kind'] }>,
): () => void {
  const client = workerClient<R, BenchAnswer & { readonly kind: R['kind'] }, BenchProgress>({ start })
  const ask = async () => {
    const { outcome } = client.ask(request, { progress: ({ done, of }) => told.progress?.(done, of) })
    const ended = await outcome
    if (ended.kind === 'left') return
    if (ended.kind === 'answer') told.answer(ended.answer)
    else told.notChecked(ended.reason)
    if (ended.kind === 'died') void ask()
    else client.end()
  }
  void ask()
  return client.end
}
