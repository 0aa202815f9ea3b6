import { visibleText } from '../../document/visibleText.ts'
import { type OldSheet, sheetStore } from '../../store/sheetStore.ts'
import { openSheetsCopy } from './openSheet.ts'

/** Stands before the steps when the run on screen is not as it was on the sheet whose code was read. */
export function OldSheetPage({ old, tag }: { old: OldSheet; tag: string }) {
  const { copy } = old
  return (
    <main className="bending-start">
      <div className="bending-changed" role="alert">
        <h2>{tag} was changed since this sheet was printed</h2>
        <p>
          The sheet with the code <b>{old.code}</b> differs from the screen. A tube bent to that sheet is not
          the current run. Print a new sheet, or use the screen.
        </p>
        {copy && (
          <p>
            “{visibleText(copy.name)}”, saved in this browser on {new Date(copy.keptAt).toLocaleString()},
            still has the sheet’s figures.
          </p>
        )}
        <div className="bending-foot">
          {copy && (
            <button type="button" className="back" onClick={() => openSheetsCopy(old, copy)}>
              Open that copy
            </button>
          )}
          <button type="button" className="primary done" onClick={() => sheetStore.setState({ old: null })}>
            Use the screen
          </button>
        </div>
      </div>
    </main>
  )
}
