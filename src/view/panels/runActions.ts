import { removeRuns } from '../../document/bulkEdits.ts'
import { endPoint } from '../../document/lookUp.ts'
import type { Run } from '../../document/types.ts'
import { routePoints } from '../../solve/solveRun.ts'
import { documentStore } from '../../store/documentStore.ts'
import { pickNone, runSelectionStore } from '../../store/runSelection.ts'
import { runIdOf, sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { duplicateRun } from './addNewRun.ts'

/** "R-101", or "12 runs". */
export const namesOf = (runs: readonly Run[]): string =>
  runs.length === 1 ? runs[0]!.tag : `${runs.length} runs`

/** Takes the runs out of the skid as one step. */
export function deleteRuns(runs: readonly Run[]): void {
  const ids = new Set(runs.map(r => r.id))
  applyEdit(`Delete ${namesOf(runs)}`, document => removeRuns(document, ids))
  const session = sessionStore.getState()
  if (ids.has(runIdOf(session.selection) ?? '')) session.select(null)
  if (ids.has(session.runInHand ?? '')) session.set({ runInHand: null })
  if ([...runSelectionStore.getState().picked].some(id => ids.has(id))) pickNone()
  session.say(`${namesOf(runs)} deleted. Undo brings ${runs.length === 1 ? 'it' : 'them'} back.`)
}

export function duplicate(run: Run): void {
  const document = documentStore.getState().settled
  const a = endPoint(document, run.endA)
  const b = endPoint(document, run.endB)
  if (!a || !b) {
    sessionStore.getState().say(`${run.tag} cannot be copied: the fitting at one of its ends is missing.`)
    return
  }
  const made = duplicateRun(document, run, [a, b])
  applyEdit(`Duplicate ${run.tag}`, () => made.document)
  sessionStore.getState().select({ kind: 'run', run: made.run.id })
}

/** Takes the camera to where all of the runs are in the picture. */
export function fitRuns(runs: readonly Run[]): void {
  const { document } = documentStore.getState()
  const low = [Infinity, Infinity, Infinity]
  const high = [-Infinity, -Infinity, -Infinity]
  for (const run of runs) {
    const route = routePoints(document, run)
    for (const p of 'points' in route ? route.points : run.vertices.map(v => v.at))
      for (let k = 0; k < 3; k++) {
        low[k] = Math.min(low[k]!, p[k]!)
        high[k] = Math.max(high[k]!, p[k]!)
      }
  }
  if (![...low, ...high].every(Number.isFinite)) return
  const at = low.map((l, k) => (l + high[k]!) / 2) as [number, number, number]
  sessionStore.getState().look({ kind: 'flyTo', at, span: Math.max(...high.map((h, k) => h - low[k]!), 60) })
}
