import type { BenchAnswer, BenchRequest } from '../../benchWorker.ts'

export interface BenchJob {
  readonly answer: Promise<BenchAnswer>
  /** Ends the work at once; `answer` then never settles. */
  cancel(): void
}

type WithoutId<T> = T extends unknown ? Omit<T, 'id'> : never

let serial = 0

/** Starts a bench job in a worker of its own. Only answers of this request count; progress comes as done and all. */
export function startBenchJob(
  request: WithoutId<BenchRequest>,
  onProgress: (done: number, of: number) => void = () => {},
): BenchJob {
  const id = ++serial
  const worker = new Worker(new URL('../../benchWorker.ts', import.meta.url), { type: 'module' })
  const answer = new Promise<BenchAnswer>(resolve => {
    worker.onmessage = (event: MessageEvent<BenchAnswer>) => {
      if (event.data.id !== id) return
      if (event.data.kind === 'progress') return onProgress(event.data.done, event.data.of)
      worker.terminate()
      resolve(event.data)
    }
    worker.onerror = event => {
      worker.terminate()
      resolve({ id, kind: 'failed', reason: event.message || 'the bench worker could not be started' })
    }
  })
  worker.postMessage({ ...request, id })
  return { answer, cancel: () => worker.terminate() }
}
