import { createStore } from 'zustand/vanilla'
import type { Finding } from '../checks/finding.ts'
import type { SkidDocument } from '../document/types.ts'
import type { ClearancePair } from '../skid/clearance.ts'
import type { ClearanceAnswer, ClearanceRequest } from '../skid/clearanceJob.ts'
import { documentStore } from './documentStore.ts'

export interface ClearanceState {
  /** The document that `findings` and `pairs` are about; null before the first answer. */
  readonly answered: SkidDocument | null
  readonly findings: readonly Finding[]
  readonly pairs: readonly ClearancePair[]
  /** Why the last request had no answer; '' when it had one. */
  readonly failure: string
}

export const clearanceStore = createStore<ClearanceState>()(() => ({
  answered: null,
  findings: [],
  pairs: [],
  failure: '',
}))

/**
 * What is known of `shown` from an answer about `answered`: an answer about the same document holds whole; otherwise
 * a pair holds only when nothing it was measured from has been touched. Runs and solids by id.
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
  const same = (id: string) => before.get(id) !== undefined && before.get(id) === now.get(id)
  return (runId, otherId) => (runId === null || same(runId)) && (otherId === undefined || same(otherId))
}

/** Clearance findings that are true of `shown`, and whether that is all of them. */
export function clearanceOf(
  shown: SkidDocument,
  { answered, findings, failure }: ClearanceState,
): { findings: readonly Finding[]; complete: boolean } {
  if (answered === shown && !failure) return { findings, complete: true }
  if (!answered) return { findings: [], complete: false }
  const holds = stillHolds(answered, shown)
  return { findings: findings.filter(f => holds(f.where.run, f.where.other)), complete: false }
}

/** Checks clearance in a worker after every change, the newest document first. Gives the function that stops it. */
export function startClearance(): () => void {
  const worker = new Worker(new URL('../worker.ts', import.meta.url), { type: 'module' })
  let serial = 0
  let asked: SkidDocument | null = null
  const ask = () => {
    const { document } = documentStore.getState()
    if (asked !== null || clearanceStore.getState().answered === document) return
    asked = document
    worker.postMessage({ serial: ++serial, document } satisfies ClearanceRequest)
  }
  worker.onmessage = ({ data }: MessageEvent<ClearanceAnswer>) => {
    const answered = asked
    asked = null
    if (data.serial !== serial || !answered) return
    if (data.ok)
      clearanceStore.setState({ answered, findings: data.findings, pairs: data.pairs, failure: '' })
    else clearanceStore.setState({ answered, findings: [], pairs: [], failure: data.reason })
    ask()
  }
  worker.onerror = event => {
    asked = null
    clearanceStore.setState({
      answered: documentStore.getState().document,
      findings: [],
      pairs: [],
      failure: event.message || 'the worker could not be started',
    })
  }
  const stop = documentStore.subscribe(ask)
  ask()
  return () => {
    stop()
    worker.terminate()
  }
}
