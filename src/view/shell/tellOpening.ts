import type { GoOn } from '../../store/prepare.ts'
import { dialogStore, showDialog } from './dialogStore.ts'

/** A file that is open by then opens without a word, ms. */
const PATIENCE_MS = 700

let turns = 0
const isTold = () => dialogStore.getState().dialog?.kind === 'opening'

/**
 * Tells how far the opening of a file is, once that takes longer than a moment, in a dialog that calls it off when it is
 * closed. A file that is opened meanwhile takes its place.
 */
export function tellOpening(name: string): GoOn {
  const turn = ++turns
  const started = performance.now()
  let told = false
  return (done, total) => {
    if (turn !== turns || (told && !isTold())) return false
    if (!told && performance.now() - started < PATIENCE_MS) return true
    told = true
    showDialog({ kind: 'opening', name, done, total })
    return true
  }
}

/** Takes the dialog away. */
export function openingIsOver(): void {
  if (isTold()) showDialog(null)
}
