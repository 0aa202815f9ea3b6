import { useState } from 'react'
import { holdSentence } from '../../bender/benchFindings.ts'
import { handlingWords } from '../../bender/handling.ts'
import { isHalfTurn, orderFrom, sameOrder, turnBetween } from '../../bender/layOut.ts'
import type { JudgedOrder } from '../../bender/orderSearch.ts'
import { orderWords } from '../../bender/orderText.ts'
import { inUnit } from '../../document/sentence.ts'
import type { OrderedBend } from '../../solve/bendOrder.ts'
import { SentenceText } from '../SentenceText.tsx'
import { useSession } from '../useStore.ts'
import { startBenchJob } from './benchJobs.ts'
import { asSentence, clearanceSentence, judge, placeWords, worstOf } from './clearanceWords.ts'
import { benchLength, unitWord } from './figures.ts'
import { OwnOrder } from './OwnOrder.tsx'
import type { Programme } from './programme.ts'
import { isBegun, type LeadChoice, newPiece, type Progress, withOrder } from './progress.ts'
import { Question } from './Question.tsx'
import type { Clearing } from './useClearances.ts'
import { useOrders } from './useOrders.ts'

interface Props {
  readonly programme: Programme
  readonly progress: Progress
  readonly clearing: Clearing
  change(patch: Partial<Progress>): void
}

interface Row {
  readonly lead: LeadChoice
  readonly name: string
  readonly order: readonly OrderedBend[] | null
  readonly judged: JudgedOrder | null
  readonly used: boolean
}

/** Which end leads and in which order: A first, B first, the one proposed, the clearest and the user's own, with what each comes near to and asks of the hands. */
export function OrderPanel({ programme, progress, clearing, change }: Props) {
  const unit = useSession(state => state.unit)
  const { searching, start, cancel } = useOrders(programme)
  const count = programme.layout.steps.length
  const [asked, setAsked] = useState<{ lead: LeadChoice; order: readonly OrderedBend[] } | null>(null)
  const use = (lead: LeadChoice, order: readonly OrderedBend[]) =>
    change(isBegun(progress) ? newPiece(progress, withOrder(lead, order)) : withOrder(lead, order))
  // Marks and turns of one order are wrong for another: a piece in work is not taken along unasked.
  const take = (lead: LeadChoice, order: readonly OrderedBend[]) =>
    isBegun(progress) && !sameOrder(order, progress.order) ? setAsked({ lead, order }) : use(lead, order)
  const found = searching.kind === 'known' ? searching.found : null
  const row = (
    lead: LeadChoice,
    name: string,
    judged: JudgedOrder | null,
    order: readonly OrderedBend[] | null = judged?.order ?? null,
  ): Row => {
    const shown = judged?.order ?? order
    return {
      lead,
      name,
      order: shown,
      judged,
      used: shown !== null && sameOrder(shown, progress.order),
    }
  }
  const rows: Row[] = [
    row('A', 'A first', found?.aFirst ?? null, orderFrom('A', count)),
    row('B', 'B first', found?.bFirst ?? null, orderFrom('B', count)),
    row('best', 'Proposed order', found?.best ?? null),
    ...(found?.clearest && !sameOrder(found.clearest.order, found.best.order)
      ? [row('own', found.exact ? 'Clearest order' : 'Clearest order tried', found.clearest)]
      : []),
  ]
  /** The way of a half turn that is not typed is the clearer one: a worker says which that is. */
  const takeOwn = (order: readonly OrderedBend[]) => {
    const { solved, bender, tooling, springback, stock } = programme
    const open = order.some(
      (o, i) => i > 0 && o.way === undefined && isHalfTurn(turnBetween(stock.planes, order[i - 1]!, o)),
    )
    if (!open) return take('own', order)
    startBenchJob(
      { kind: 'clearances', work: { solved, bender, tooling, springback }, order, ways: 'clearer' },
      {
        answer: ({ steps }) =>
          take(
            'own',
            steps.map(s => s.step),
          ),
        notChecked: () => take('own', order),
      },
    )
  }
  return (
    <section className="bending-order" aria-label="Order of the bends">
      <h3>Order of the bends</h3>
      {asked && (
        <Question
          answers={[
            { says: 'Keep the order in use', take: () => setAsked(null) },
            {
              says: 'Put the piece away',
              take: () => {
                setAsked(null)
                use(asked.lead, asked.order)
              },
            },
          ]}
        >
          A piece is in progress in the order {orderWords(progress.order)}. The order{' '}
          {orderWords(asked.order)} is for a new piece: put this one away?
        </Question>
      )}
      <table className="bending-table">
        <thead>
          <tr>
            <th>order</th>
            <th>bends, from end A, with the end that leads</th>
            <th className="number">least clearance {unitWord(unit)}</th>
            <th>where</th>
            <th>
              <span className="hidden-label">use</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ lead, name, order, judged, used }) => (
            <tr key={name} className={used ? 'chosen' : ''}>
              <td>{name}</td>
              <td>
                <div>{order ? orderWords(order) : '—'}</div>
                {judged !== null && <div className="quiet">{handlingWords(judged.handling)}</div>}
              </td>
              <td className="number">{judged === null ? 'not checked' : leastOf(judged, unit)}</td>
              <td>{judged === null ? '' : whereOf(judged, unit)}</td>
              <td className="number">
                <button
                  type="button"
                  aria-pressed={used}
                  aria-label={`Use ${name}`}
                  disabled={order === null}
                  onClick={() => order && take(lead, order)}
                >
                  {used ? '✓ used' : 'Use'}
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {found && (
        <p className="quiet">
          {found.best.atLeast === null
            ? 'Proposed: least handling of the orders that can be held; clearance is not checked.'
            : found.reached
              ? `Proposed: least handling of the orders that clear the bender by ${benchLength(found.margin, unit)} ${unitWord(unit)}.`
              : `Proposed: the clearest; no order clears the bender by ${benchLength(found.margin, unit)} ${unitWord(unit)}.`}
          {found.exact ? '' : ' Tried: from one end, and from both ends to the middle.'}
          {rows.some(r => r.order?.some(o => o.way === 'counter-clockwise'))
            ? ' CCW: the half turn before that bend goes counter-clockwise.'
            : ''}
        </p>
      )}
      {searching.kind === 'running' && (
        <div className="bending-row" role="status">
          <progress max={100} value={searching.percent} aria-label="Order search" />
          <span>Looking for the best order… {searching.percent} %</span>
          <button type="button" onClick={cancel}>
            Cancel
          </button>
        </div>
      )}
      {searching.kind === 'idle' && (
        <div className="bending-row">
          <button type="button" onClick={start}>
            Look for the best order
          </button>
          <span className="quiet">Orders are not compared yet.</span>
        </div>
      )}
      {searching.kind === 'notChecked' && <p>Orders are not checked: {searching.reason}.</p>}
      {found?.blockedBy && (
        <p className="bending-verdict contact">✕ {asSentence(inUnit(found.blockedBy, unit))}</p>
      )}
      <OwnOrder programme={programme} progress={progress} take={takeOwn} />
      <Verdict clearing={clearing} />
    </section>
  )
}

/** Contacts listed on the start page, deepest first. */
const SHOWN_HITS = 3

/** How the order in use fares, step by step, as checked for these very figures. */
function Verdict({ clearing }: { clearing: Clearing }) {
  const unit = useSession(state => state.unit)
  if (clearing.kind === 'running')
    return (
      <p className="quiet" role="status">
        Checking how close the tube comes to the bender… {clearing.done} of {clearing.of}
      </p>
    )
  if (clearing.kind === 'notChecked')
    return <p>Clearance from the bender is not checked: {clearing.reason}.</p>
  const held = clearing.steps.find(s => s.hold !== null)
  const hold = held?.hold
  const hits = clearing.steps.flatMap(s =>
    s.motions.filter(m => judge(m) === 'contact').map(m => ({ bend: s.step.bend, m })),
  )
  const worstHits = hits.toSorted((a, b) => (b.m.depth ?? 0) - (a.m.depth ?? 0)).slice(0, SHOWN_HITS)
  const worst = worstOf(clearing.steps)
  return (
    <>
      {held && hold && (
        <p className="bending-verdict contact">
          ✕ <SentenceText sentence={holdSentence(held.step, hold)} />.
        </p>
      )}
      {worstHits.map(({ bend, m }) => (
        <p key={`${bend}${m.motion}`} className="bending-verdict contact">
          ✕ The order in use hits the bender at bend {bend + 1}: {clearanceSentence(m, unit)}.
        </p>
      ))}
      {hits.length > SHOWN_HITS && (
        <p className="quiet">
          And {hits.length - SHOWN_HITS} more motions that hit; each step shows its own.
        </p>
      )}
      {hits.length === 0 && worst && (
        <p className={`bending-verdict ${judge(worst.clearance)}`}>
          {judge(worst.clearance) === 'close' ? '! Close' : '✓ The order in use clears the bender'}; nearest
          at bend {worst.bend + 1}, {clearanceSentence(worst.clearance, unit)}.
        </p>
      )}
    </>
  )
}

type Unit = Parameters<typeof benchLength>[1]

function leastOf(judged: JudgedOrder, unit: Unit): string {
  if (judged.steps.some(s => s.hold !== null)) return '✕ cannot be set up'
  if (judged.atLeast === null) return 'not checked'
  const worst = worstOf(judged.steps)
  return worst?.clearance.depth != null
    ? `✕ hits, ${benchLength(worst.clearance.depth, unit)} deep`
    : `✓ ${benchLength(Math.max(0, judged.atLeast), unit)}`
}

function whereOf(judged: JudgedOrder, unit: Unit): string {
  const held = judged.steps.find(s => s.hold !== null)
  if (held) return `bend ${held.step.bend + 1}`
  const worst = worstOf(judged.steps)
  if (!worst) return ''
  return `bend ${worst.bend + 1}, ${placeWords(worst.clearance, unit)}`
}
