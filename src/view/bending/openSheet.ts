import { findByCode } from '../../outputs/runCode.ts'
import type { Copy } from '../../store/copies.ts'
import { solvedRuns } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { findSheet } from '../../store/findSheet.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { type OldSheet, sheetStore } from '../../store/sheetStore.ts'
import { openKept } from '../shell/documentActions.ts'

/**
 * Goes to the bending view of the run that a sheet with this code was printed of. When its figures are no longer
 * those of the sheet, the bending view says so before anything else.
 *
 * @returns what came of it, one sentence; also said in the status bar.
 */
export async function openSheet(typed: string): Promise<string> {
  const answer = await findSheet(typed)
  const code = typed.trim()
  if (answer.kind === 'none') {
    const said = `No run with the code “${code}” is in this skid or in those saved in this browser. Open the skid that the sheet is of, then try again; do not bend to a sheet that cannot be found.`
    sessionStore.getState().say(said)
    return said
  }
  const { found, copy } = answer
  const arrive = (): string => {
    sheetStore.setState({
      old: found.same ? null : { code, runId: found.runId, copy },
      order: found.same && found.order ? { runId: found.runId, order: found.order } : null,
    })
    sessionStore.getState().select({ kind: 'run', run: found.runId })
    sessionStore.getState().set({ mode: 'bending', runInHand: found.runId, tool: 'pick' })
    const said = found.same
      ? `${found.tag}: the sheet and the screen agree.`
      : `${found.tag}: the figures no longer match the sheet. Do not bend to it.`
    sessionStore.getState().say(said)
    return said
  }
  if (answer.kind === 'open') return arrive()
  return new Promise(resolve => {
    openKept(answer.copy, () =>
      resolve(`${arrive()} “${answer.copy.name}” was opened as saved in this browser.`),
    )
  })
}

/** Opens the kept copy that still has the sheet's figures, at the same run. */
export function openSheetsCopy({ code, runId }: OldSheet, copy: Copy): void {
  openKept(copy, () => {
    const found = findByCode(
      documentStore.getState().settled,
      solvedRuns(documentStore.getState().settled),
      code,
    )
    sheetStore.setState({ old: null, order: found?.order ? { runId, order: found.order } : null })
    sessionStore.getState().select({ kind: 'run', run: runId })
    sessionStore.getState().set({ mode: 'bending', runInHand: runId })
  })
}
