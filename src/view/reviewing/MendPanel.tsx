import { useEffect, useId, useRef } from 'react'
import { useStore } from 'zustand'
import type { Mend } from '../../checks/mend/mendTypes.ts'
import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { Finding } from '../../findings/finding.ts'
import {
  type MendSearch,
  mendLabel,
  mendStore,
  searchMends,
  showMend,
  stopMends,
  takeMend,
} from '../../store/mendStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useDocument, useSession } from '../useStore.ts'
import './mend.css'

interface Props {
  readonly finding: Finding
  /** How long the finding must stay chosen before the search starts, ms: arrow keys only pass through. */
  readonly after: number
  /** A way was taken: the focus needs a place to be. */
  readonly onTaken: () => void
}

/** The ways to mend a gap: each says what moves and what comes of it, shows itself as a ghost, and is one step. */
export default function MendPanel({ finding, after, onTaken }: Props) {
  const settled = useDocument(s => s.settled)
  const unit = useSession(s => s.unit)
  const title = useId()
  const search = useStore(mendStore, s => s.search)
  const isOurs = search?.document === settled && search.findingId === finding.id && search.unit === unit
  const wanted = useRef(finding)
  wanted.current = finding
  const { id } = finding
  useEffect(() => {
    const timer = window.setTimeout(() => {
      if (wanted.current.id === id) searchMends(settled, wanted.current, unit)
    }, after)
    return () => {
      window.clearTimeout(timer)
      stopMends()
      showMend(null)
    }
  }, [settled, id, unit, after])

  return (
    <section className="mends" aria-labelledby={title}>
      <h3 id={title}>Possible fixes</h3>
      {isOurs ? (
        <Answer
          search={search}
          unit={unit}
          onAgain={() => searchMends(settled, finding, unit)}
          onTake={way => {
            const refused = takeMend(way, unit)
            sessionStore.getState().say(refused ?? mendStore.getState().taken?.text ?? '')
            if (!refused) onTaken()
          }}
        />
      ) : (
        <p className="quiet">Looking for fixes…</p>
      )}
    </section>
  )
}

interface AnswerProps {
  readonly search: MendSearch
  readonly unit: LengthUnit
  readonly onAgain: () => void
  readonly onTake: (way: Mend) => void
}

function Answer({ search, unit, onAgain, onTake }: AnswerProps) {
  const { state, done, mends, failure, missing } = search
  if (state === 'searching')
    return (
      <div className="mend-progress">
        <progress max={1} value={done} aria-label="Moves tried" />
        <span className="number">{Math.round(done * 100)} %</span>
        <button type="button" onClick={stopMends}>
          Stop
        </button>
      </div>
    )
  if (state === 'stopped' || state === 'failed' || !mends)
    return (
      <>
        <p role="status">
          {state === 'failed'
            ? `Possible fixes are not known: ${failure}.`
            : 'Stopped before all moves were tried: there may still be a fix.'}
        </p>
        <button type="button" onClick={onAgain}>
          Search again
        </button>
      </>
    )
  return (
    <>
      <p role="status" className={mends.ways.length > 0 ? 'hidden-label' : ''}>
        {mends.ways.length > 0
          ? `${mends.ways.length} possible ${mends.ways.length === 1 ? 'fix' : 'fixes'}`
          : mends.reason}
      </p>
      <ol className="mend-ways">
        {mends.ways.map(way => (
          <Way key={mendLabel(way, unit)} way={way} unit={unit} onTake={() => onTake(way)} />
        ))}
      </ol>
      {!mends.complete && <p className="quiet">Not every move was tried: there were too many.</p>}
      {missing.length > 0 && (
        <p className="quiet">Not checked against {missing.join(', ')}: the file is missing.</p>
      )}
      {mends.ways.length > 0 && (
        <p className="quiet">
          Each fix was tried: it brings no new finding and no new gap that is too small. The bender’s
          clearance is checked once you apply it.
        </p>
      )}
    </>
  )
}

function Way({ way, unit, onTake }: { way: Mend; unit: LengthUnit; onTake: () => void }) {
  const show = (mm: number) => formatLength(mm, unit, { withUnit: true })
  const label = mendLabel(way, unit)
  const isShown = useStore(mendStore, s => s.shown === way)
  const longer = way.cutLengthAfter - way.cutLengthBefore
  const hide = () => {
    if (mendStore.getState().shown === way) showMend(null)
  }
  return (
    <li
      className={isShown ? 'shown' : undefined}
      onPointerEnter={() => showMend(way)}
      onPointerLeave={event => {
        if (!event.currentTarget.contains(document.activeElement)) hide()
      }}
      onFocus={() => showMend(way)}
      onBlur={hide}
    >
      <b>{label}</b>
      <dl>
        <dt>New gap</dt>
        <dd className="number">
          {show(way.clearance)} <span className="quiet">({show(way.required)} required)</span>
        </dd>
        <dt>Cut length</dt>
        <dd className="number">
          {Math.abs(longer) < 0.005
            ? `${show(way.cutLengthAfter)}, as before`
            : `${show(way.cutLengthAfter)}, ${show(Math.abs(longer))} ${longer > 0 ? 'more' : 'less'}`}
        </dd>
        <dt>Bends</dt>
        <dd>{bendWords(way.bendsChanged)}</dd>
        {way.endsMoved > 0 && (
          <>
            <dt>Ends</dt>
            <dd>{way.endsMoved === 1 ? 'a free end moves too' : 'both free ends move too'}</dd>
          </>
        )}
      </dl>
      <button type="button" className="primary" aria-label={`Apply: ${label}`} onClick={onTake}>
        Apply
      </button>
    </li>
  )
}

const bendWords = (n: number): string =>
  n === 0 ? 'all stay as they are' : `${n} ${n === 1 ? 'changes' : 'change'} angle or rotation`
