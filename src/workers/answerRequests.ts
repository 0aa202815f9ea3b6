import type { FromWorker, ToWorker } from './messages.ts'

/** One request, as the job that answers it sees it. */
export interface Asking<Progress> {
  progress(progress: Progress): void
  /** True when nobody wants the answer any longer; only a job that lets messages in between can see it. */
  isLeft(): boolean
  /** Buffers that go to the page with the answer instead of being copied. */
  handOver(buffers: readonly ArrayBuffer[]): void
}

export interface WorkerJob<Request, Answer, Progress, Message> {
  /** May throw: the request then has no answer, and the page gets the reason. Undefined only when it was left. */
  answer(request: Request, asking: Asking<Progress>): Answer | undefined | Promise<Answer | undefined>
  take?(message: Message): void
}

export type PostReply<Answer, Progress> = (
  reply: FromWorker<Answer, Progress>,
  transfer: ArrayBuffer[],
) => void

/**
 * The worker's half of the one protocol between page and workers; see `workerClient.ts` for the other.
 *
 * @param holdLock takes a lock for as long as the worker lives; false when it cannot be had.
 * @returns what takes the page's messages. It never throws.
 */
export function answerRequests<Request, Answer, Progress, Message>(
  job: WorkerJob<Request, Answer, Progress, Message>,
  post: PostReply<Answer, Progress>,
  holdLock: (name: string) => Promise<boolean>,
): (message: ToWorker<Request, Message>) => Promise<void> {
  const left = new Set<number>()
  return async message => {
    switch (message.kind) {
      case 'start':
        post({ kind: 'ready', isLocked: message.lock !== '' && (await holdLock(message.lock)) }, [])
        return
      case 'leave':
        left.add(message.number)
        return
      case 'tell':
        job.take?.(message.message)
        return
      case 'ask': {
        const { number, request } = message
        const transfer: ArrayBuffer[] = []
        post({ kind: 'begun', number }, [])
        try {
          const answer = await job.answer(request, {
            progress: progress => post({ kind: 'progress', number, progress }, []),
            isLeft: () => left.has(number),
            handOver: buffers => void transfer.push(...buffers),
          })
          if (answer === undefined) post({ kind: 'left', number }, [])
          else post({ kind: 'answer', number, answer }, transfer)
        } catch (error) {
          post({ kind: 'failed', number, reason: error instanceof Error ? error.message : String(error) }, [])
        }
        left.delete(number)
      }
    }
  }
}

/** Takes a lock and keeps it until this thread ends, however it ends. */
function holdLock(name: string): Promise<boolean> {
  if (!('locks' in navigator)) return Promise.resolve(false)
  return new Promise(done => {
    navigator.locks
      .request(name, () => {
        done(true)
        return new Promise<never>(() => {})
      })
      .catch(() => done(false))
  })
}

/** Makes this thread answer a page's requests with the job. */
export function startAnswering<Request, Answer, Progress, Message>(
  job: WorkerJob<Request, Answer, Progress, Message>,
): void {
  const post: PostReply<Answer, Progress> = (reply, transfer) => postMessage(reply, { transfer })
  const take = answerRequests(job, post, holdLock)
  addEventListener('message', (event: MessageEvent<ToWorker<Request, Message>>) => void take(event.data))
  addEventListener('messageerror', () => post({ kind: 'unreadable' }, []))
}
