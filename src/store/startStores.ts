import { startClearance } from './clearance.ts'
import { documentStore } from './documentStore.ts'
import { startHousing } from './housing.ts'
import { pickNone, showAgain } from './runSelection.ts'
import { sheetStore } from './sheetStore.ts'
import { startModelsWhenNeeded } from './startModelsWhenNeeded.ts'

/**
 * Starts all that follows the document by itself, in this order; the one place that does. Gives what stops it. What
 * asks for the first document comes after it.
 */
export function startStores(): () => void {
  const stops = [forgetWithDocument(), startClearance(), startHousing(), startModelsWhenNeeded()]
  return () => {
    for (const stop of stops) stop()
  }
}

/** What is known of runs of the open document goes with it: another one's may have the same ids. Gives what stops it. */
export const forgetWithDocument = (): (() => void) =>
  documentStore.subscribe((now, before) => {
    if (now.generation === before.generation) return
    pickNone()
    showAgain()
    sheetStore.setState({ old: null, order: null })
  })
