import type { FromWorker, ToWorker } from './messages.ts'

/** How a request ended. */
export type Outcome<Answer> =
  | { readonly kind: 'answer'; readonly answer: Answer }
  /** The job could not be done: asked again it would say the same. */
  | { readonly kind: 'failed'; readonly reason: string }
  /** The worker died or could not be started: the next request starts another. */
  | { readonly kind: 'died'; readonly reason: string }
  /** Nobody wanted the answer any longer. */
  | { readonly kind: 'left' }

export interface Asked<Answer> {
  readonly outcome: Promise<Outcome<Answer>>
  /** The answer is no longer wanted. */
  leave(): void
}

export interface AskOptions<Progress> {
  /** Handed over instead of copied. A request that hands something over cannot be asked twice. */
  readonly transfer?: Transferable[]
  readonly progress?: (progress: Progress) => void
}

export interface WorkerClient<Request, Answer, Progress, Message> {
  /**
   * Asks; starts the worker when none is running. A request given as a function is made when it is posted: what it says
   * may depend on what the worker that runs then was sent before.
   */
  ask(request: Request | (() => Request), options?: AskOptions<Progress>): Asked<Answer>
  /** Leaves whatever is open, then asks: the newest answer wins. */
  askNewest(request: Request, options?: AskOptions<Progress>): Asked<Answer>
  /** Tells the worker something, for which one is started; with `onStart`, only a worker that runs. */
  tell(message: Message, transfer?: Transferable[]): void
  /** Ends the worker and what is open. The next request starts another. */
  end(): void
}

export interface WorkerOptions<Message> {
  /** Makes the worker. It may throw. */
  readonly start: () => Worker
  /** Tells a fresh worker what it has to know before it is asked anything. */
  readonly onStart?: (tell: (message: Message, transfer?: Transferable[]) => void) => void
  /** The worker died, whether or not anything was open: what it was told is gone. */
  readonly onDeath?: (reason: string) => void
  /** True when its job lets messages in while it works. Leaving another one's request ends it. */
  readonly hears?: boolean
  /** ms; for tests. */
  readonly times?: Partial<typeof TIMES>
}

const TIMES = {
  /** A worker that has not answered its start by then is taken for dead. Its file may come over a slow network. */
  start: 60_000,
  /** Where no lock tells of its end: an idle worker that has not begun a request by then is taken for dead. */
  begin: 20_000,
  /** The second start in a row waits so long, every further one twice as long as the one before … */
  backOff: 500,
  /** … up to this. */
  longestBackOff: 30_000,
}

interface Open<Answer, Progress> {
  readonly settle: (outcome: Outcome<Answer>) => void
  readonly progress: (progress: Progress) => void
}

let locks = 0
/** Unlike that of any other page of this browser. */
const PAGE = Math.random().toString(36).slice(2)

/**
 * The page's half of the one protocol between page and workers. A worker's end is noticed however it comes: a file that
 * is not there, an error, an answer that cannot be read, an end without a word (the browser then gives the worker's lock
 * to the page). What was open then ends as 'died' at once; the next request starts another worker, after a pause that
 * grows for as long as none of them answers.
 */
export function workerClient<Request, Answer, Progress = never, Message = never>(
  options: WorkerOptions<Message>,
): WorkerClient<Request, Answer, Progress, Message> {
  const times = { ...TIMES, ...options.times }
  const open = new Map<number, Open<Answer, Progress>>()
  /** Requests that wait for a worker that may not be started yet. */
  let waiting: (() => void)[] = []
  let number = 0
  let worker: Worker | null = null
  let isReady = false
  let isLocked = false
  /** Deaths since the last answer. */
  let deaths = 0
  let diedAt = Number.NEGATIVE_INFINITY
  let restart: ReturnType<typeof setTimeout> | undefined
  let watch: ReturnType<typeof setTimeout> | undefined

  const settle = (of: number, outcome: Outcome<Answer>) => {
    const asked = open.get(of)
    if (open.delete(of)) asked?.settle(outcome)
  }
  const settleAll = (outcome: Outcome<Answer>) => {
    for (const of of [...open.keys()]) settle(of, outcome)
  }
  const drop = () => {
    clearTimeout(restart)
    clearTimeout(watch)
    restart = undefined
    waiting = []
    worker?.terminate()
    worker = null
    isReady = isLocked = false
  }
  const die = (reason: string) => {
    drop()
    deaths++
    diedAt = performance.now()
    settleAll({ kind: 'died', reason })
    options.onDeath?.(reason)
  }
  const expectWord = (ms: number, reason: string) => {
    clearTimeout(watch)
    watch = setTimeout(() => die(reason), ms)
  }
  const hear = (reply: FromWorker<Answer, Progress>) => {
    clearTimeout(watch)
    switch (reply.kind) {
      case 'ready':
        isReady = true
        isLocked = reply.isLocked
        return
      case 'unreadable':
        return die('the worker could not read what it was sent')
      case 'begun':
        return
      case 'progress':
        return open.get(reply.number)?.progress(reply.progress)
      case 'left':
        return settle(reply.number, { kind: 'left' })
      case 'failed':
        deaths = 0
        return settle(reply.number, { kind: 'failed', reason: reply.reason })
      case 'answer':
        deaths = 0
        return settle(reply.number, { kind: 'answer', answer: reply.answer })
    }
  }
  const post = (message: ToWorker<Request, Message>, transfer: Transferable[] = []) =>
    worker?.postMessage(message, transfer)

  const start = () => {
    let own: Worker
    try {
      own = options.start()
    } catch (error) {
      die(`the worker could not be started: ${error instanceof Error ? error.message : String(error)}`)
      return
    }
    worker = own
    const isMine = () => worker === own
    own.onmessage = ({ data }: MessageEvent<FromWorker<Answer, Progress>>) => {
      if (!isMine()) return
      hear(data)
      if (data.kind === 'ready' && data.isLocked) noticeEnd(lock, isMine)
    }
    own.onmessageerror = () => isMine() && die('the worker’s answer could not be read')
    own.onerror = event => {
      event.preventDefault?.()
      if (isMine()) die(event.message || 'the worker could not be started')
    }
    const lock = typeof navigator !== 'undefined' && navigator.locks ? `dogleg-worker-${PAGE}-${++locks}` : ''
    post({ kind: 'start', lock })
    expectWord(times.start, 'the worker did not start')
    options.onStart?.((message, transfer) => post({ kind: 'tell', message }, transfer))
  }
  /** The lock comes to the page once the worker is no more. */
  const noticeEnd = (lock: string, isMine: () => boolean) => {
    navigator.locks
      .request(lock, () => {
        if (isMine()) die('the worker stopped: the browser may have run out of memory')
      })
      .catch(() => {})
  }
  /** Does `then` once there is a worker. */
  const withWorker = (then: () => void): void => {
    if (worker) {
      then()
      return
    }
    waiting.push(then)
    if (restart !== undefined) return
    const pause = deaths < 2 ? 0 : Math.min(times.longestBackOff, times.backOff * 2 ** (deaths - 2))
    const go = () => {
      restart = undefined
      const due = waiting
      waiting = []
      start()
      for (const each of due) each()
    }
    const left = diedAt + pause - performance.now()
    if (left > 0) restart = setTimeout(go, left)
    else go()
  }

  const leave = (of: number) => {
    if (!open.has(of)) return
    if (options.hears && worker) return post({ kind: 'leave', number: of })
    settle(of, { kind: 'left' })
    if (open.size === 0) drop()
  }
  const ask = (
    request: Request | (() => Request),
    { transfer, progress }: AskOptions<Progress> = {},
  ): Asked<Answer> => {
    const own = ++number
    const outcome = new Promise<Outcome<Answer>>(done => {
      open.set(own, { settle: done, progress: progress ?? (() => {}) })
    })
    withWorker(() => {
      // Left meanwhile, or ended by a start that failed.
      if (!open.has(own)) return
      try {
        const made = typeof request === 'function' ? (request as () => Request)() : request
        post({ kind: 'ask', number: own, request: made }, transfer)
      } catch (error) {
        const reason = error instanceof Error ? error.message : String(error)
        return settle(own, { kind: 'failed', reason: `the worker could not be sent this: ${reason}` })
      }
      if (isReady && !isLocked && open.size === 1) expectWord(times.begin, 'the worker stopped')
    })
    return { outcome, leave: () => leave(own) }
  }
  return {
    ask,
    askNewest(request, rest) {
      for (const of of [...open.keys()]) leave(of)
      return ask(request, rest)
    },
    tell(message, transfer) {
      if (worker || !options.onStart) withWorker(() => post({ kind: 'tell', message }, transfer))
    },
    end() {
      drop()
      settleAll({ kind: 'left' })
    },
  }
}
