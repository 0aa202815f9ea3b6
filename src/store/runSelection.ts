import { createStore } from 'zustand/vanilla'
import type { Run } from '../document/types.ts'
import { documentStore } from './documentStore.ts'
import { hiddenByHand } from './hiddenRuns.ts'
import { sessionStore } from './sessionStore.ts'

interface PickedState {
  /** Ids of runs that the next action is for; apart from the one part that is selected. */
  readonly picked: ReadonlySet<string>
  /** Where a range of rows starts. */
  readonly anchor: string | null
}

/** Of this page alone: no file holds it. */
export const runSelectionStore = createStore<PickedState>()(() => ({
  picked: new Set(),
  anchor: null,
}))

const pick = (picked: Iterable<string>, anchor: string | null) =>
  runSelectionStore.setState({ picked: new Set(picked), anchor })

/** Picks these and no others. */
export const pickRuns = (ids: readonly string[]): void => pick(ids, ids.at(-1) ?? null)
export const pickNone = (): void => pick([], null)

/** Picks the run or lets it go; a range starts at it. */
export function togglePicked(id: string): void {
  const next = new Set(runSelectionStore.getState().picked)
  if (!next.delete(id)) next.add(id)
  pick(next, id)
}

/** Picks none, lets none go; the next range starts at the run. */
export const startRangeAt = (id: string): void => runSelectionStore.setState({ anchor: id })

/** Picks what lies between the start of the range and `to` in the order given, both counted in, and no others. */
export function pickRange(order: readonly string[], to: string): void {
  const { anchor } = runSelectionStore.getState()
  const [from, end] = [order.indexOf(anchor ?? to), order.indexOf(to)]
  if (end < 0) return
  const first = from < 0 ? end : from
  pick(order.slice(Math.min(first, end), Math.max(first, end) + 1), order[first]!)
}

/** The picked runs that the document has, in its order. */
export const pickedOf = (runs: readonly Run[], picked: ReadonlySet<string>): readonly Run[] =>
  picked.size === 0 ? [] : runs.filter(r => picked.has(r.id))

/** Hides or shows runs in the picture. They are checked all the same. */
export function hideRuns(ids: Iterable<string>, hide: boolean): void {
  const session = sessionStore.getState()
  session.hide(hiddenByHand(session.hiddenBy, ids, hide))
}

/** Hides every run but these; `showAgain` goes back to what was hidden before. */
export function isolateRuns(ids: ReadonlySet<string>): void {
  const others = documentStore.getState().settled.runs.flatMap(r => (ids.has(r.id) ? [] : [r.id]))
  sessionStore.getState().hide({ isolation: new Set(others) })
}
export const showAgain = (): void => sessionStore.getState().hide({ isolation: null })
