import { followedFigures, type Programme } from './programme.ts'
import type { Bending } from './useBending.ts'

/** Stands before the steps when the run's figures are no longer those that the work was begun with. */
export function ChangedPage({ bending, programme }: { bending: Bending; programme: Programme }) {
  const { changes, change, progress } = bending
  const figures = followedFigures(programme)
  return (
    <main className="bending-start">
      <div className="bending-changed" role="alert">
        <h2>The figures changed since this tube was begun</h2>
        <ul>
          {changes.map(c => (
            <li key={c}>{c}</li>
          ))}
        </ul>
        <p>A piece marked by the old figures is not the run as it is now. A printed sheet is old, too.</p>
        <div className="bending-foot">
          <button type="button" className="back" onClick={() => change({ screen: null, figures: null })}>
            Start page
          </button>
          <button type="button" className="back" onClick={() => change({ figures })}>
            Go on with the new figures
          </button>
          <button
            type="button"
            className="primary done"
            onClick={() =>
              change({
                figures,
                screen: 0,
                measured: progress.order.map(() => null),
                short: progress.order.map(() => null),
              })
            }
          >
            Begin a new piece
          </button>
        </div>
      </div>
    </main>
  )
}
