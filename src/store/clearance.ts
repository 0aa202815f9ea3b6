import { createStore } from 'zustand/vanilla'
import { changeOf, type DocumentChange } from '../document/documentChange.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { ClearancePair } from '../skid/clearance.ts'
import type { Progress } from '../skid/clearanceIndex.ts'
import type { ClearanceAnswer, ClearanceMessage, ClearanceRequest } from '../skid/clearanceJob.ts'
import type { Thing } from '../skid/measurable.ts'
import { modelPartOf } from '../skid/models/nameOfBody.ts'
import { buffersOfTrees } from '../skid/models/treeMemory.ts'
import { type Asked, workerClient } from '../workers/workerClient.ts'
import { documentStore } from './documentStore.ts'
import { type ModelState, modelStore } from './modelStore.ts'

export interface ClearanceState {
  /** The document that `findings` and `pairs` are about; null before the first answer. */
  readonly answered: SkidDocument | null
  readonly findings: readonly Finding[]
  readonly pairs: readonly ClearancePair[]
  /** Why the last request had no answer; '' when it had one. */
  readonly failure: string
  /** Of a check that takes longer than a moment; null when none does. */
  readonly progress: Progress | null
  /** True from when a model's triangles came or went until an answer knows of it. */
  readonly outdated: boolean
}

export const clearanceStore = createStore<ClearanceState>()(() => ({
  answered: null,
  findings: [],
  pairs: [],
  failure: '',
  progress: null,
  outdated: false,
}))

/**
 * What is known of `shown` from an answer about `answered`: an answer about the same document holds whole; otherwise
 * a pair holds only when nothing it was measured from has been touched. Runs, solids and models by id, parts of models as `model/key`.
 */
export function stillHolds(
  answered: SkidDocument,
  shown: SkidDocument,
): (runId: string | null, otherId: string | undefined) => boolean {
  if (answered === shown) return () => true
  if (answered.clearances !== shown.clearances || answered.fittings !== shown.fittings) return () => false
  const parts = (document: SkidDocument) =>
    new Map<string, unknown>([...document.runs, ...document.solids].map(part => [part.id, part]))
  const before = parts(answered)
  const now = parts(shown)
  const partOf = (document: SkidDocument, known: ReadonlyMap<string, unknown>, id: string) =>
    known.get(id) ?? modelPartOf(document, id)?.model ?? null
  const same = (id: string) => {
    const was = partOf(answered, before, id)
    return was !== null && was === partOf(shown, now, id)
  }
  return (runId, otherId) => (runId === null || same(runId)) && (otherId === undefined || same(otherId))
}

/** Clearance findings that are true of `shown`, and whether that is all of them. */
export function clearanceOf(
  shown: SkidDocument,
  { answered, findings, failure, outdated }: Omit<ClearanceState, 'progress'>,
): { findings: readonly Finding[]; complete: boolean } {
  if (answered === shown && !failure) return { findings, complete: !outdated }
  if (!answered) return { findings: [], complete: false }
  const holds = stillHolds(answered, shown)
  return { findings: findings.filter(f => holds(f.where.run, f.where.other)), complete: false }
}

type Client = ReturnType<typeof workerClient<ClearanceRequest, ClearanceAnswer, Progress, ClearanceMessage>>
type Measurement = Extract<ClearanceAnswer, { readonly kind: 'measured' }>['measurement']
let running: Client | null = null
/** The document that the running worker was sent last: of the next one it is sent what has changed. */
let sent: SkidDocument | null = null
const changeFor = (document: SkidDocument): DocumentChange => {
  const change = changeOf(sent, document)
  sent = document
  return change
}

/** Two things measured against each other in the worker, which has the models, too; null when none is started. */
export function measureInWorker(
  document: SkidDocument,
  first: Thing,
  second: Thing,
): Promise<Measurement> | null {
  if (!running) return null
  return running
    .ask(() => ({ kind: 'measure', change: changeFor(document), first, second }))
    .outcome.then(ended => {
      if (ended.kind === 'answer' && ended.answer.kind === 'measured') return ended.answer.measurement
      return { refused: 'reason' in ended ? ended.reason : 'it was cancelled' }
    })
}

/** A gesture that rests this long is checked as it stands, ms. */
const REST_MS = 150

/**
 * Checks clearance in a worker after every change, the newest document first, and hands it the triangles of models as
 * they come and go. A check that runs is left for a newer document; what it measured is kept. Gives the function that
 * stops it.
 */
export function startClearance(): () => void {
  const handed = new Map<string, ModelState>()
  /** Tells what came and went since it was last told; false when nothing did. */
  const hand = (tell: Client['tell']): boolean => {
    const { states } = modelStore.getState()
    let changed = false
    for (const key of handed.keys())
      if (!states.has(key)) {
        handed.delete(key)
        tell({ kind: 'drop', key, why: '' })
        changed = true
      }
    for (const [key, state] of states) {
      if (handed.get(key)?.kind === state.kind && state.kind !== 'ready' && state.kind !== 'refused') continue
      if (handed.get(key) === state) continue
      handed.set(key, state)
      if (state.kind === 'ready') {
        const { trees, spare } = state.loaded
        const own = spare.trees
        spare.trees = null
        // Copying millions of triangles would stop the page for a second or more.
        tell({ kind: 'models', key, trees: own ?? trees }, own ? buffersOfTrees(own) : [])
      } else tell({ kind: 'drop', key, why: whyNot(state) })
      changed = true
    }
    return changed
  }
  const client: Client = workerClient({
    start: () => new Worker(new URL('../workers/clearanceWorker.ts', import.meta.url), { type: 'module' }),
    hears: true,
    onStart: tell => {
      sent = null
      handed.clear()
      hand(tell)
    },
  })
  running = client
  let asked: { readonly document: SkidDocument; readonly request: Asked<ClearanceAnswer> } | null = null
  let isLeaving = false
  const ask = () => {
    const { document } = documentStore.getState()
    const { answered, outdated } = clearanceStore.getState()
    if (asked) {
      if (isLeaving || (asked.document === document && !outdated)) return
      isLeaving = true
      asked.request.leave()
      return
    }
    if (answered !== document || outdated) void check(document)
  }
  const check = async (document: SkidDocument) => {
    isLeaving = false
    clearanceStore.setState({ outdated: false })
    const request = client.ask(() => ({ kind: 'check', change: changeFor(document) }), {
      progress: progress => clearanceStore.setState({ progress }),
    })
    asked = { document, request }
    const ended = await request.outcome
    if (running !== client) return
    asked = null
    if (ended.kind === 'answer' && ended.answer.kind === 'checked') {
      const { findings, pairs } = ended.answer
      clearanceStore.setState({ answered: document, findings, pairs, failure: '', progress: null })
    } else if ('reason' in ended) {
      // Whatever went wrong, the next one is sent whole.
      sent = null
      const failure = ended.reason
      clearanceStore.setState({ answered: document, findings: [], pairs: [], failure, progress: null })
    }
    // Another worker is asked the same; till it answers, the failure stands.
    if (ended.kind === 'died') void check(documentStore.getState().document)
    else ask()
  }
  const takeModels = () => {
    if (!hand(client.tell)) return
    clearanceStore.setState({ outdated: true })
    ask()
  }
  let timer: ReturnType<typeof setTimeout> | undefined
  // A gesture's previews pass too fast to be answered, and its nearest gap is told at the cursor: a rest is waited for.
  const askInTime = () => {
    clearTimeout(timer)
    const { document, settled } = documentStore.getState()
    if (document === settled) ask()
    else timer = setTimeout(ask, REST_MS)
  }
  const stops = [documentStore.subscribe(askInTime), modelStore.subscribe(takeModels)]
  ask()
  return () => {
    clearTimeout(timer)
    for (const stop of stops) stop()
    running = null
    client.end()
  }
}

/** Why a model cannot be measured, to go behind its file's name; '' when the file is not at hand. */
function whyNot(state: Exclude<ModelState, { readonly kind: 'ready' }>): string {
  if (state.kind === 'loading') return 'is still being read'
  return state.kind === 'refused' ? `cannot be read (${state.reason})` : ''
}
