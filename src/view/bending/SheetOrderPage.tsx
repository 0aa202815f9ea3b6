import { orderWords } from '../../bender/orderText.ts'
import type { OrderedBend } from '../../solve/bendOrder.ts'
import { sheetStore } from '../../store/sheetStore.ts'
import { leadOfOrder, newPiece, withOrder } from './progress.ts'
import type { Bending } from './useBending.ts'

/** Stands before the steps when a piece is in work in another order of bends than the sheet has whose code was read. */
export function SheetOrderPage({ bending, order }: { bending: Bending; order: readonly OrderedBend[] }) {
  const { run, progress, change } = bending
  const decided = () => sheetStore.setState({ order: null })
  return (
    <main className="bending-start">
      <div className="bending-changed" role="alert">
        <h2>{run.tag}: this sheet bends in another order</h2>
        <p>
          The piece in progress was started in the order <b>{orderWords(progress.order)}</b>; the sheet has{' '}
          <b>{orderWords(order)}</b>. Marks and rotations of one are wrong for the other. The piece in
          progress can be restored later.
        </p>
        <div className="bending-foot">
          <button
            type="button"
            className="back"
            onClick={() => {
              change(newPiece(progress, withOrder(leadOfOrder(order), order)))
              decided()
            }}
          >
            New piece, as on the sheet
          </button>
          <button type="button" className="primary done" onClick={decided}>
            Continue the piece in progress
          </button>
        </div>
      </div>
    </main>
  )
}
