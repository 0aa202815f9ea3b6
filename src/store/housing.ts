import { createStore } from 'zustand/vanilla'
import type { HousingRequest } from '../bender/housingJob.ts'
import type { Bender, Fitting, Run, SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { workerClient } from '../workers/workerClient.ts'
import { documentStore } from './documentStore.ts'
import { sessionStore } from './sessionStore.ts'

interface Known {
  readonly fittings: readonly Fitting[]
  readonly benders: readonly Bender[]
  readonly findings: readonly Finding[]
}

/** What was found for a run holds as long as run, fittings and benders are the same objects. */
const known = new WeakMap<Run, Known>()

/** While there is more to check, answers are told this often at most. Milliseconds. */
const TELL_MS = 250

export interface HousingState {
  /** Counts up as answers come, so that what shows findings draws again. */
  readonly answers: number
  /** Why there is no worker to ask; '' while there is one. */
  readonly failure: string
}

export const housingStore = createStore<HousingState>()(() => ({ answers: 0, failure: '' }))

const knownOf = (document: SkidDocument, run: Run): readonly Finding[] | null => {
  const k = known.get(run)
  return k && k.fittings === document.fittings && k.benders === document.benders ? k.findings : null
}

/** Whether the run, as the document has it, has been looked at, or cannot be for now. */
export const isHoused = (document: SkidDocument, run: Run): boolean =>
  knownOf(document, run) !== null || housingStore.getState().failure !== ''

/** Housing findings known to be true of the document, and the number of runs that have not been looked at. */
export function housingOf(document: SkidDocument): { findings: readonly Finding[]; pending: number } {
  let pending = 0
  const findings = document.runs.flatMap(run => {
    const found = knownOf(document, run)
    if (!found) pending++
    return found ?? []
  })
  return { findings, pending }
}

/** Checks each run of the settled document against its bender, one at a time in a worker. Gives what stops it. */
export function startHousing(): () => void {
  const client = workerClient<HousingRequest, readonly Finding[]>({
    start: () => new Worker(new URL('../workers/housingWorker.ts', import.meta.url), { type: 'module' }),
  })
  let told = 0
  let isAsking = false
  let isOver = false
  /** The run whose check the worker last died of: others go before it. */
  let fatal: Run | null = null
  const next = () => {
    if (isAsking || isOver) return
    // A gesture's previews pass too fast to be worth a bench sequence each.
    const { settled } = documentStore.getState()
    const wanted = settled.runs.filter(r => knownOf(settled, r) === null)
    // What is being worked on is wanted first: at the bench its order of bends waits for this.
    const { runInHand } = sessionStore.getState()
    const healthy = wanted.filter(r => r !== fatal)
    const run = healthy.find(r => r.id === runInHand) ?? healthy[0] ?? wanted[0]
    if (run) void check(settled, run)
  }
  const check = async (document: SkidDocument, run: Run) => {
    isAsking = true
    const ended = await client.ask({ document: alone(document, run), runId: run.id }).outcome
    if (isOver) return
    if (ended.kind === 'answer') {
      known.set(run, { fittings: document.fittings, benders: document.benders, findings: ended.answer })
      if (run === fatal) fatal = null
    } else if (ended.kind === 'died') fatal = run
    else if (ended.kind === 'failed') {
      const { housingNotChecked } = await import('../bender/benchFindings.ts')
      const findings = [housingNotChecked({ runId: run.id }, ended.reason)]
      known.set(run, { fittings: document.fittings, benders: document.benders, findings })
    }
    const failure = ended.kind === 'died' ? ended.reason : ''
    isAsking = false
    next()
    // A skid of many runs gives answers faster than lists are worth drawing.
    const isDue = !isAsking || performance.now() - told >= TELL_MS
    if (!isDue && failure === housingStore.getState().failure) return
    told = performance.now()
    housingStore.setState(({ answers }) => ({ answers: answers + 1, failure }))
  }
  const stop = documentStore.subscribe(next)
  next()
  return () => {
    isOver = true
    stop()
    client.end()
  }
}

/** The document with nothing but what the check of one run looks at. */
const alone = (document: SkidDocument, run: Run): SkidDocument => ({
  ...document,
  runs: [run],
  fittings: document.fittings.filter(f =>
    [run.endA, run.endB].some(end => end.kind === 'port' && end.fitting === f.id),
  ),
  benders: document.benders.filter(b => b.id === run.bender),
  solids: [],
  models: [],
  supports: [],
  acceptances: [],
  viewpoints: [],
})
