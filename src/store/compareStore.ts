import { createStore } from 'zustand/vanilla'
import type { Finding } from '../checks/finding.ts'
import type { VersionAnswer, VersionRequest } from '../checks/versionFindings.ts'
import type { SkidDocument } from '../document/types.ts'
import { sessionStore } from './sessionStore.ts'

/** Which of two versions is drawn where they differ. */
export type ShownVersion = 'earlier' | 'now' | 'both'

export interface CompareState {
  /** The version that the open document is compared with, or null. */
  readonly earlier: { readonly name: string; readonly document: SkidDocument } | null
  readonly show: ShownVersion
  /** Findings of the earlier version: worked out in a worker. */
  readonly checked:
    | { readonly state: 'checking' }
    | { readonly state: 'done'; readonly findings: readonly Finding[] }
    | { readonly state: 'failed'; readonly reason: string }
}

export const compareStore = createStore<CompareState>()(() => ({
  earlier: null,
  show: 'both',
  checked: { state: 'checking' },
}))

let worker: Worker | null = null
let serial = 0
/** Runs that are hidden only because the earlier version alone is shown. */
let hidden: ReadonlySet<string> = new Set()

/** Compares with a version; its checks run in a worker. */
export function compareWith(name: string, document: SkidDocument): void {
  stopComparing()
  compareStore.setState({ earlier: { name, document }, show: 'both', checked: { state: 'checking' } })
  worker = new Worker(new URL('../compareWorker.ts', import.meta.url), { type: 'module' })
  const asked = ++serial
  const end = (checked: CompareState['checked']) => {
    if (asked === serial) compareStore.setState({ checked })
    worker?.terminate()
    worker = null
  }
  worker.onmessage = ({ data }: MessageEvent<VersionAnswer>) =>
    end(data.ok ? { state: 'done', findings: data.findings } : { state: 'failed', reason: data.reason })
  worker.onerror = event =>
    end({ state: 'failed', reason: event.message || 'the worker could not be started' })
  worker.postMessage({ serial: asked, document } satisfies VersionRequest)
}

/** Nothing is compared any more; what was hidden for it is shown again. */
export function stopComparing(): void {
  worker?.terminate()
  worker = null
  serial++
  hideInstead([])
  compareStore.setState({ earlier: null, show: 'both', checked: { state: 'checking' } })
}

/** @param different ids of the runs of the open document that the earlier version has otherwise or not at all. */
export function showVersion(show: ShownVersion, different: readonly string[]): void {
  hideInstead(show === 'earlier' ? different : [])
  compareStore.setState({ show })
}

function hideInstead(ids: readonly string[]): void {
  if (ids.length === 0 && hidden.size === 0) return
  const { hiddenRuns, set } = sessionStore.getState()
  const own = [...hiddenRuns].filter(id => !hidden.has(id))
  hidden = new Set(ids.filter(id => !own.includes(id)))
  set({ hiddenRuns: new Set([...own, ...hidden]) })
}
