import { createStore } from 'zustand/vanilla'
import type { SkidDocument } from '../document/types.ts'
import type { MaterialLine } from '../outputs/billOfMaterial.ts'
import type { CutList } from '../outputs/cutList.ts'
import type { CutListAnswer, CutListRequest } from '../outputs/cutListJob.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type CutWishes, cutOptionsOf, keepCutWishes, readCutWishes } from './cutWishes.ts'

interface Runs {
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
}
export interface CutResult extends Runs {
  readonly list: CutList
  readonly material: readonly MaterialLine[]
}
export interface CutState {
  readonly wishes: CutWishes
  /** Fields that hold a text which is no figure, by their id. */
  readonly refusedFields: ReadonlySet<string>
  readonly doing:
    | { readonly state: 'working'; readonly done: number; readonly of: number }
    | { readonly state: 'done' | 'stopped' }
    | { readonly state: 'refused'; readonly reason: string }
  /** The last cut list of these runs; of earlier choices while `doing` is not 'done'. */
  readonly result: CutResult | null
}

export const cutStore = createStore<CutState>()(() => ({
  wishes: readCutWishes(),
  refusedFields: new Set<string>(),
  doing: { state: 'stopped' },
  result: null,
}))

/** Figures come in one after the other: nesting starts when a person has paused. ms. */
const PAUSE_MS = 120

let runs: Runs | null = null
let worker: Worker | null = null
let busy = false
let serial = 0
let timer: ReturnType<typeof setTimeout> | undefined

/** Nests these runs, and again whenever a choice changes. */
export function nestRuns(document: SkidDocument, solved: readonly SolvedRun[]): void {
  runs = { document, solved }
  cutStore.setState({ result: null })
  nestSoon()
}

/** Changes choices, keeps them in this browser, and nests anew. */
export function wishCut(patch: Partial<CutWishes>): void {
  const wishes = { ...cutStore.getState().wishes, ...patch }
  cutStore.setState({ wishes })
  keepCutWishes(wishes)
  nestSoon()
}

export function refuseField(id: string, refused: boolean): void {
  const { refusedFields } = cutStore.getState()
  if (refusedFields.has(id) === refused) return
  const others = [...refusedFields].filter(f => f !== id)
  cutStore.setState({ refusedFields: new Set(refused ? [...others, id] : others) })
}

/** Ends what is under way. The result of earlier choices stays, marked as such. */
export function stopNesting(): void {
  clearTimeout(timer)
  serial++
  if (busy) endWorker()
  cutStore.setState({ doing: { state: 'stopped' } })
}

/** No one looks any more: the worker is let go. */
export function leaveCutList(): void {
  stopNesting()
  endWorker()
  runs = null
  cutStore.setState({ result: null })
}

/** The cut list of the choices as they are now, when it is worked out; null when it is refused or stopped. */
export function nestedResult(): Promise<CutResult | null> {
  return new Promise(resolve => {
    const look = ({ doing, result }: CutState): boolean => {
      if (doing.state === 'working') return false
      resolve(doing.state === 'done' ? result : null)
      return true
    }
    if (look(cutStore.getState())) return
    const stop = cutStore.subscribe(state => {
      if (look(state)) stop()
    })
  })
}

export function nestSoon(): void {
  clearTimeout(timer)
  if (!runs) return
  serial++
  if (busy) endWorker()
  cutStore.setState({ doing: { state: 'working', done: 0, of: 0 } })
  const asked = runs
  timer = setTimeout(() => {
    busy = true
    const { wishes } = cutStore.getState()
    awake().postMessage({ serial, ...asked, options: cutOptionsOf(wishes) } satisfies CutListRequest)
  }, PAUSE_MS)
}

function awake(): Worker {
  if (worker) return worker
  worker = new Worker(new URL('../cutListWorker.ts', import.meta.url), { type: 'module' })
  worker.onmessage = ({ data }: MessageEvent<CutListAnswer>) => {
    if (data.serial !== serial || !runs) return
    if (data.kind === 'progress') {
      cutStore.setState({ doing: { state: 'working', done: data.done, of: data.of } })
      return
    }
    busy = false
    if (data.kind === 'refused') cutStore.setState({ doing: { state: 'refused', reason: data.reason } })
    else {
      const { list, material } = data
      cutStore.setState({ doing: { state: 'done' }, result: { ...runs, list, material } })
    }
  }
  worker.onerror = event => {
    endWorker()
    const reason = `the cut list was not worked out: ${event.message || 'its worker could not be started'}`
    cutStore.setState({ doing: { state: 'refused', reason } })
  }
  return worker
}

function endWorker(): void {
  worker?.terminate()
  worker = null
  busy = false
}
