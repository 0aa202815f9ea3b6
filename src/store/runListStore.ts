import { createStore } from 'zustand/vanilla'
import type { Severity } from '../findings/finding.ts'

export type RunColumn = 'tag' | 'service' | 'size' | 'length' | 'bends' | 'state'

/** How the list of runs is shown; stays from view to view, no file holds it. */
export interface RunListState {
  readonly text: string
  /** Only runs of this state; null for all. */
  readonly state: Severity | 'accepted' | 'ok' | null
  /** null: in the document's order. */
  readonly sort: RunColumn | null
  readonly down: boolean
}

const WHOLE: RunListState = { text: '', state: null, sort: null, down: false }

export const runListStore = createStore<RunListState>()(() => WHOLE)

/** All runs in the document's order again. */
export const showWholeList = (): void => runListStore.setState(WHOLE)
