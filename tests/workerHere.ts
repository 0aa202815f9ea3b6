import { answerRequests, type WorkerJob } from '../src/workers/answerRequests.ts'
import type { FromWorker, ToWorker } from '../src/workers/messages.ts'

// biome-ignore lint/suspicious/noExplicitAny: any job will do, as any file will for a worker
type AnyJob = WorkerJob<any, unknown, any, any>
type Said = ToWorker<unknown, unknown>

/**
 * A worker of the browser's kind around the very job that the built worker runs, on this thread; messages are copied as
 * between threads.
 */
export class WorkerHere {
  onmessage: ((event: { data: FromWorker<unknown, unknown> }) => void) | null = null
  onerror: ((event: { message: string }) => void) | null = null
  onmessageerror: (() => void) | null = null
  /** What it was sent, as it came. */
  readonly told: Said[] = []
  isEnded = false
  private readonly take: (message: Said) => Promise<void>

  constructor(job: AnyJob) {
    const post = (reply: FromWorker<unknown, unknown>, transfer: ArrayBuffer[]) => {
      const data = structuredClone(reply, { transfer })
      setTimeout(() => this.isEnded || this.onmessage?.({ data }))
    }
    this.take = answerRequests(job, post, () => Promise.resolve(false))
  }
  postMessage(message: Said, transfer: ArrayBuffer[] = []) {
    if (this.isEnded) return
    this.told.push(message)
    const copy = structuredClone(message, { transfer })
    setTimeout(() => this.isEnded || void this.take(copy))
  }
  terminate() {
    this.isEnded = true
  }
}

/** Makes `new Worker(url)` start the job that belongs to the file's name. Gives what puts the old one back. */
export function workersHere(jobOf: (file: string) => AnyJob, started: WorkerHere[] = []): () => void {
  const before = Reflect.get(globalThis, 'Worker')
  Reflect.set(
    globalThis,
    'Worker',
    class extends WorkerHere {
      constructor(url: URL) {
        super(jobOf(url.pathname.slice(url.pathname.lastIndexOf('/') + 1)))
        started.push(this)
      }
    },
  )
  return () => Reflect.set(globalThis, 'Worker', before)
}
