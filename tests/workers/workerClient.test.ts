import { afterEach, expect, test, vi } from 'vitest'
import type { WorkerJob } from '../../src/workers/answerRequests.ts'
import { type WorkerOptions, workerClient } from '../../src/workers/workerClient.ts'
import { WorkerHere } from '../workerHere.ts'

const QUICK = { start: 60, begin: 60, backOff: 5, longestBackOff: 20 }
const started: WorkerHere[] = []
afterEach(() => {
  started.length = 0
  vi.useRealTimers()
})

const double: WorkerJob<number, number, number, string> = {
  answer: (n, { progress }) => {
    if (n < 0) throw new Error('found a number below 0')
    progress(0.5)
    return 2 * n
  },
}
function clientOf(
  job: WorkerJob<number, number, number, string> = double,
  options: Partial<WorkerOptions<string>> = {},
) {
  const start = () => {
    const worker = new WorkerHere(job)
    started.push(worker)
    return worker as unknown as Worker
  }
  return workerClient<number, number, number, string>({ start, times: QUICK, ...options })
}

test('a request is answered, with its progress; one that fails says why and the worker goes on', async () => {
  const client = clientOf()
  const shares: number[] = []
  const asked = client.ask(21, { progress: p => shares.push(p) })
  expect(await asked.outcome).toEqual({ kind: 'answer', answer: 42 })
  expect(shares).toEqual([0.5])
  expect(await client.ask(-1).outcome).toEqual({ kind: 'failed', reason: 'found a number below 0' })
  expect(await client.ask(2).outcome).toEqual({ kind: 'answer', answer: 4 })
  expect(started).toHaveLength(1)
})

test('answers find their own request, in whatever order they come', async () => {
  const job: WorkerJob<number, number, number, string> = {
    answer: n => new Promise(done => setTimeout(() => done(n), 20 - n)),
  }
  const client = clientOf(job)
  const outcomes = await Promise.all([1, 9, 17].map(n => client.ask(n).outcome))
  expect(outcomes).toEqual([1, 9, 17].map(answer => ({ kind: 'answer', answer })))
})

test('the newest answer wins: the request before it ends as left', async () => {
  const client = clientOf()
  const first = client.ask(1)
  const second = client.askNewest(2)
  expect(await first.outcome).toEqual({ kind: 'left' })
  expect(await second.outcome).toEqual({ kind: 'answer', answer: 4 })
})

test('a job that hears is told to leave and keeps its worker; one that does not is ended', async () => {
  const patient: WorkerJob<number, number, number, string> = {
    answer: async (n, { isLeft }) => {
      while (!isLeft()) await new Promise(done => setTimeout(done, 1))
      return n > 0 ? undefined : n
    },
  }
  const hearing = clientOf(patient, { hears: true })
  const asked = hearing.ask(1)
  setTimeout(asked.leave, 10)
  expect(await asked.outcome).toEqual({ kind: 'left' })
  expect(started.map(w => w.isEnded)).toEqual([false])
  const deaf = clientOf()
  const other = deaf.ask(1)
  other.leave()
  expect(await other.outcome).toEqual({ kind: 'left' })
  expect(started.map(w => w.isEnded)).toEqual([false, true])
})

const ENDS: readonly (readonly [string, (worker: WorkerHere) => void])[] = [
  ['its file is not there', w => w.onerror?.({ message: '' })],
  ['its answer cannot be read', w => w.onmessageerror?.()],
  ['it could not read what it was sent', w => w.onmessage?.({ data: { kind: 'unreadable' } })],
  ['it ends without a word', w => w.terminate()],
]
test.each(ENDS)(
  'when %s the request ends as died, and the next one starts another worker',
  async (_, end) => {
    const deaths: string[] = []
    const never: WorkerJob<number, number, number, string> = {
      answer: n => (started.length > 1 ? n : new Promise(() => {})),
    }
    const client = clientOf(never, { onDeath: reason => deaths.push(reason) })
    const asked = client.ask(1)
    end(started[0]!)
    const outcome = await asked.outcome
    expect(outcome).toMatchObject({ kind: 'died', reason: expect.stringMatching(/worker/) })
    expect(deaths).toHaveLength(1)
    expect(await client.ask(5).outcome).toEqual({ kind: 'answer', answer: 5 })
    expect(started).toHaveLength(2)
  },
)

test('a worker that ended unseen is noticed by the request that it does not begin', async () => {
  const client = clientOf()
  await client.ask(1).outcome
  started[0]!.terminate()
  expect(await client.ask(2).outcome).toMatchObject({ kind: 'died' })
  expect(await client.ask(2).outcome).toEqual({ kind: 'answer', answer: 4 })
})

test('where making a worker throws, every request says so, and starts wait longer and longer', async () => {
  vi.useFakeTimers()
  let starts = 0
  const client = clientOf(double, {
    start: () => {
      starts++
      throw new DOMException('workers are off', 'SecurityError')
    },
  })
  const reason = 'the worker could not be started: workers are off'
  // ms from the request to the next start.
  for (const pause of [0, 0, 5, 10, 20, 20]) {
    const before = starts
    const asked = client.ask(1)
    if (pause > 0) {
      await vi.advanceTimersByTimeAsync(pause - 1)
      expect(starts, `before the pause of ${pause} ms is over`).toBe(before)
      await vi.advanceTimersByTimeAsync(1)
    }
    expect(starts).toBe(before + 1)
    expect(await asked.outcome).toEqual({ kind: 'died', reason })
  }
})

test('a fresh worker is given what it has to know before it is asked', async () => {
  const heard: string[] = []
  const job: WorkerJob<number, number, number, string> = {
    take: word => void heard.push(word),
    answer: n => n + heard.length,
  }
  const client = clientOf(job, { onStart: tell => tell('models') })
  expect(await client.ask(1).outcome).toEqual({ kind: 'answer', answer: 2 })
  client.tell('more')
  expect(await client.ask(1).outcome).toEqual({ kind: 'answer', answer: 3 })
  started[0]!.onerror?.({ message: 'gone' })
  await client.ask(1).outcome
  expect(heard).toEqual(['models', 'more', 'models'])
})

test('ending a client ends its worker and what is open; a request after that starts another', async () => {
  const client = clientOf()
  const asked = client.ask(1)
  client.end()
  expect(await asked.outcome).toEqual({ kind: 'left' })
  expect(started[0]!.isEnded).toBe(true)
  expect(await client.ask(3).outcome).toEqual({ kind: 'answer', answer: 6 })
})

test('a request given as a function is made when it is posted, for the worker that runs then', async () => {
  let starts = 0
  const client = clientOf(double, { onStart: () => void starts++ })
  const make = () => 10 * starts
  expect(await client.ask(make).outcome).toEqual({ kind: 'answer', answer: 20 })
  started[0]!.onerror?.({ message: 'gone' })
  expect(await client.ask(make).outcome).toEqual({ kind: 'answer', answer: 40 })
})
