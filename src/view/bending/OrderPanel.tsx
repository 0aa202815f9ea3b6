import { type OrderedBend, orderFrom } from '../../bench/layOut.ts'
import { useSession } from '../useStore.ts'
import { clearanceSentence, judge, worstOf } from './clearanceWords.ts'
import type { Programme } from './programme.ts'
import type { LeadChoice, Progress } from './progress.ts'
import type { Clearing } from './useClearances.ts'

interface Props {
  readonly programme: Programme
  readonly progress: Progress
  readonly clearing: Clearing
  change(patch: Partial<Progress>): void
}

/** Which end leads and in which order; how near each order comes to the bender. */
export function OrderPanel({ programme, progress, clearing, change }: Props) {
  const unit = useSession(state => state.unit)
  const count = programme.layout.steps.length
  const take = (lead: LeadChoice, order: readonly OrderedBend[]) =>
    change({
      lead,
      order,
      figures: null,
      measured: order.map(() => null),
      short: order.map(() => null),
    })
  const worst = clearing.kind === 'known' ? worstOf(clearing.steps) : null
  return (
    <section className="bending-order" aria-label="Order of the bends">
      <h3>Order of the bends</h3>
      <div className="bending-row">
        {(['A', 'B'] as const).map(lead => (
          <button
            key={lead}
            type="button"
            aria-pressed={progress.lead === lead}
            onClick={() => take(lead, orderFrom(lead, count))}
          >
            {lead} first
          </button>
        ))}
      </div>
      {clearing.kind === 'running' && (
        <p className="quiet" role="status">
          Working out how near the tube comes to the bender… {clearing.done} of {clearing.of}
        </p>
      )}
      {clearing.kind === 'notChecked' && <p>Clearance from the bender is not checked: {clearing.reason}.</p>}
      {worst && (
        <p className={`bending-verdict ${judge(worst.clearance)}`}>
          {judge(worst.clearance) === 'contact' ? '✕ Hits the bender' : '✓ Clears the bender'}: bend{' '}
          {worst.step + 1}, {clearanceSentence(worst.clearance, unit)}.
        </p>
      )}
    </section>
  )
}
