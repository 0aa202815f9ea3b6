import { createStore } from 'zustand/vanilla'
import type { HousingAnswer, HousingRequest } from '../bench/housingJob.ts'
import type { Finding } from '../checks/finding.ts'
import type { Bender, Fitting, Run, SkidDocument } from '../document/types.ts'
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

/** `answers` counts up as answers come, so that what shows findings draws again. */
export const housingStore = createStore<{ readonly answers: number }>()(() => ({ answers: 0 }))

const knownOf = (document: SkidDocument, run: Run): readonly Finding[] | null => {
  const k = known.get(run)
  return k && k.fittings === document.fittings && k.benders === document.benders ? k.findings : null
}

/** Whether the run, as the document has it, has been looked at. */
export const isHoused = (document: SkidDocument, run: Run): boolean => knownOf(document, run) !== null

/** Housing findings known to be true of the document, and whether every run has been looked at. */
export function housingOf(document: SkidDocument): { findings: readonly Finding[]; complete: boolean } {
  let complete = true
  const findings = document.runs.flatMap(run => {
    const found = knownOf(document, run)
    if (!found) complete = false
    return found ?? []
  })
  return { findings, complete }
}

/** Checks each run of the settled document against its bender, one at a time in a worker. Gives what stops it. */
export function startHousing(): () => void {
  const worker = new Worker(new URL('../housingWorker.ts', import.meta.url), { type: 'module' })
  let serial = 0
  let told = 0
  let asked: { document: SkidDocument; run: Run } | null = null
  const next = () => {
    if (asked) return
    // A gesture's previews pass too fast to be worth a bench sequence each.
    const { settled } = documentStore.getState()
    const wanted = settled.runs.filter(r => knownOf(settled, r) === null)
    // What is being worked on is wanted first: at the bench its order of bends waits for this.
    const { runInHand } = sessionStore.getState()
    const run = wanted.find(r => r.id === runInHand) ?? wanted[0]
    if (!run) return
    asked = { document: settled, run }
    const alone: SkidDocument = {
      ...settled,
      runs: [run],
      fittings: settled.fittings.filter(f =>
        [run.endA, run.endB].some(end => end.kind === 'port' && end.fitting === f.id),
      ),
      benders: settled.benders.filter(b => b.id === run.bender),
      solids: [],
      models: [],
      supports: [],
      acceptances: [],
      viewpoints: [],
    }
    worker.postMessage({ serial: ++serial, document: alone, runId: run.id } satisfies HousingRequest)
  }
  const take = (findings: readonly Finding[]) => {
    if (!asked) return
    const { document, run } = asked
    known.set(run, { fittings: document.fittings, benders: document.benders, findings })
    asked = null
    next()
    // A skid of many runs gives answers faster than lists are worth drawing.
    if (asked === null || performance.now() - told >= TELL_MS) {
      told = performance.now()
      housingStore.setState(({ answers }) => ({ answers: answers + 1 }))
    }
  }
  worker.onmessage = ({ data }: MessageEvent<HousingAnswer>) => {
    if (data.serial === serial) take(data.findings)
  }
  const stop = documentStore.subscribe(next)
  next()
  return () => {
    stop()
    worker.terminate()
  }
}
