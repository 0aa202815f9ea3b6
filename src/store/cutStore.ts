import { createStore } from 'zustand/vanilla'
import type { SkidDocument } from '../document/types.ts'
import type { MaterialLine } from '../outputs/billOfMaterial.ts'
import type { CutList } from '../outputs/cutList.ts'
import type { CutListAnswer, CutListRequest, CutProgress } from '../outputs/cutListJob.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type Asked, workerClient } from '../workers/workerClient.ts'
import { type CutSettings, cutOptionsOf, keepCutSettings, readCutSettings } from './cutSettings.ts'

interface Runs {
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
}
export interface CutResult extends Runs {
  readonly list: CutList
  readonly material: readonly MaterialLine[]
}
export interface CutState {
  readonly settings: CutSettings
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
  settings: readCutSettings(),
  refusedFields: new Set<string>(),
  doing: { state: 'stopped' },
  result: null,
}))

/** Figures come in one after the other: nesting starts when a person has paused. ms. */
const PAUSE_MS = 120

let runs: Runs | null = null
/** Nesting never looks up from its work: leaving it ends its worker. */
const client = workerClient<CutListRequest, CutListAnswer, CutProgress>({
  start: () => new Worker(new URL('../workers/cutListWorker.ts', import.meta.url), { type: 'module' }),
})
let asked: Asked<CutListAnswer> | null = null
let timer: ReturnType<typeof setTimeout> | undefined

/** Nests these runs, and again whenever a choice changes. */
export function nestRuns(document: SkidDocument, solved: readonly SolvedRun[]): void {
  runs = { document, solved }
  cutStore.setState({ result: null })
  nestSoon()
}

/** Changes choices, keeps them in this browser, and nests anew. */
export function changeCut(patch: Partial<CutSettings>): void {
  const settings = { ...cutStore.getState().settings, ...patch }
  cutStore.setState({ settings })
  keepCutSettings(settings)
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
  leaveOff()
  cutStore.setState({ doing: { state: 'stopped' } })
}

/** No one looks any more: the worker is let go. */
export function leaveCutList(): void {
  stopNesting()
  client.end()
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
  leaveOff()
  if (!runs) return
  cutStore.setState({ doing: { state: 'working', done: 0, of: 0 } })
  const of = runs
  timer = setTimeout(() => void nest(of), PAUSE_MS)
}

async function nest(of: Runs): Promise<void> {
  const { settings } = cutStore.getState()
  const own = client.askNewest(
    { ...of, options: cutOptionsOf(settings) },
    {
      progress: ({ done, of }) =>
        asked === own && cutStore.setState({ doing: { state: 'working', done, of } }),
    },
  )
  asked = own
  const ended = await own.outcome
  if (asked !== own || ended.kind === 'left') return
  asked = null
  if (ended.kind !== 'answer') {
    const reason = `the cut list was not calculated: ${ended.reason}`
    cutStore.setState({ doing: { state: 'refused', reason } })
  } else if (ended.answer.kind === 'refused')
    cutStore.setState({ doing: { state: 'refused', reason: ended.answer.reason } })
  else {
    const { list, material } = ended.answer
    cutStore.setState({ doing: { state: 'done' }, result: { ...of, list, material } })
  }
}

function leaveOff(): void {
  clearTimeout(timer)
  asked?.leave()
  asked = null
}
