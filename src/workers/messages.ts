/** What a page says to a worker. Numbers count the page's requests: every reply carries the one it is for. */
export type ToWorker<Request, Message> =
  /** First of all. The worker holds the lock of this name for as long as it lives; '' where there are no locks. */
  | { readonly kind: 'start'; readonly lock: string }
  | { readonly kind: 'ask'; readonly number: number; readonly request: Request }
  /** The answer is no longer wanted. A job that does not look up meanwhile answers all the same. */
  | { readonly kind: 'leave'; readonly number: number }
  /** Something to know for later requests; there is no answer. */
  | { readonly kind: 'tell'; readonly message: Message }

export type FromWorker<Answer, Progress> =
  | { readonly kind: 'ready'; readonly isLocked: boolean }
  | { readonly kind: 'begun' | 'left'; readonly number: number }
  | { readonly kind: 'progress'; readonly number: number; readonly progress: Progress }
  | { readonly kind: 'answer'; readonly number: number; readonly answer: Answer }
  /** The job threw: this request has no answer, the worker goes on. */
  | { readonly kind: 'failed'; readonly number: number; readonly reason: string }
  /** A message came that could not be read. */
  | { readonly kind: 'unreadable' }
