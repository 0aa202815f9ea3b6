import { holdSentence } from '../../bender/benchFindings.ts'
import { SentenceText } from '../SentenceText.tsx'
import { useSession } from '../useStore.ts'
import {
  asSentence,
  barredWords,
  CLOSE_MM,
  clearanceSentence,
  hitsOf,
  judge,
  MOTION_WORDS,
  wayOutWords,
} from './clearanceWords.ts'
import { benchAngle, benchLength, unitWord } from './figures.ts'
import type { Clearing } from './useClearances.ts'

const SIGN = { contact: '✕ hits', close: '! close', clear: '✓ clear', notChecked: '? not checked' } as const

interface Props {
  readonly clearing: Clearing
  readonly step: number
  /** Where the dial will go, degrees; past what was checked is said. */
  readonly dial: number | null
  /** Shows the moment of a motion in the picture. */
  readonly show?: (motion: string) => void
}

/** How near the tube comes to the bender in each motion of one step. */
export function CloseCalls({ clearing, step, dial, show }: Props) {
  const unit = useSession(state => state.unit)
  if (clearing.kind === 'running')
    return (
      <p className="bending-calls quiet" role="status">
        Checking what the tube comes close to… {clearing.done} of {clearing.of}
      </p>
    )
  if (clearing.kind === 'notChecked')
    return (
      <p className="bending-calls">
        <span className="judge notChecked">{SIGN.notChecked}</span> clearance from the bender:{' '}
        {clearing.reason}
      </p>
    )
  const found = clearing.steps[step]
  if (!found) return null
  const bend = found.motions.find(m => m.motion === 'bend')
  const wayOut = wayOutWords(found.outInstead, unit)
  const clear = found.motions.filter(m => judge(m) === 'clear')
  const nearest = Math.min(...clear.map(m => m.atLeast!))
  return (
    <div className="bending-calls">
      {found.hold && (
        <p className="callHold">
          <span className="judge contact">✕</span>{' '}
          <SentenceText sentence={holdSentence(found.step, found.hold)} />
        </p>
      )}
      <ul>
        {found.motions
          .filter(m => judge(m) !== 'clear')
          .map(m => {
            const verdict = judge(m)
            return (
              <li
                key={m.motion}
                className={verdict}
                title={m.leftOut === null ? undefined : `Left out: ${m.leftOut}`}
              >
                <span className={`judge ${verdict}`}>{SIGN[verdict]}</span>
                <span>
                  {clearanceSentence(m, unit)}
                  {m.motion === 'armBack' && wayOut !== null && (
                    <small className="callHelp">{asSentence(wayOut)}</small>
                  )}
                </span>
                {show && m.at !== null && (
                  <button type="button" onClick={() => show(m.motion)}>
                    Show
                  </button>
                )}
              </li>
            )
          })}
      </ul>
      {clear.length > 0 && (
        <details className="callsClear">
          <summary>
            <span className="judge clear">{SIGN.clear}</span> {clear.length}{' '}
            {clear.length === 1 ? 'motion' : 'motions'}, nearest {benchLength(nearest, unit)} {unitWord(unit)}
          </summary>
          <ul>
            {clear.map(m => (
              <li
                key={m.motion}
                className="clear"
                title={m.leftOut === null ? undefined : `Left out: ${m.leftOut}`}
              >
                {MOTION_WORDS[m.motion]}, ≥ {benchLength(m.atLeast!, unit)} {unitWord(unit)}
              </li>
            ))}
          </ul>
          <p className="quiet small">
            Checked over the whole motion, not at samples; under {benchLength(CLOSE_MM, unit)}{' '}
            {unitWord(unit)} is marked close.
          </p>
        </details>
      )}
      {bend && dial !== null && dial > bend.to + 0.05 && (
        <p>
          <span className="judge notChecked">{SIGN.notChecked}</span> past {benchAngle(bend.to)}°, the final
          dial reading {benchAngle(dial)}°
        </p>
      )}
    </div>
  )
}

/** Said on every screen of a bend before its motion is made: it cannot be held, or it hits the bender, and where. */
export function HitsAhead({ clearing, step }: Pick<Props, 'clearing' | 'step'>) {
  const unit = useSession(state => state.unit)
  const found = clearing.kind === 'known' ? clearing.steps[step] : undefined
  const hits = hitsOf(found)
  if (!found || (hits.length === 0 && found.hold === null)) return null
  const worst = hits.toSorted((a, b) => (b.depth ?? 0) - (a.depth ?? 0))[0]
  const more = hits.length > 1 ? ` And ${hits.length - 1} more.` : ''
  return (
    <p className="bending-hits">
      {found.hold && '✕ This bend cannot be set up in this order. '}
      {worst && `✕ This bend hits the bender: ${clearanceSentence(worst, unit)}.${more}`}
    </p>
  )
}

/** What to mind once the bend is made: the tube comes out before the arm goes back, always or because of this bend. */
export function ArmCare({
  clearing,
  step,
  tubeOutFirst,
}: Pick<Props, 'clearing' | 'step'> & { readonly tubeOutFirst: boolean }) {
  const unit = useSession(state => state.unit)
  if (tubeOutFirst) return <p className="bending-out">Remove the tube before returning the arm.</p>
  const found = clearing.kind === 'known' ? clearing.steps[step] : undefined
  const barred = found?.motions.find(m => m.motion === 'armBack' && judge(m) === 'contact')
  if (!found || !barred) return null
  const wayOut = wayOutWords(found.outInstead, unit)
  return (
    <p className="bending-warn">
      {asSentence(barredWords(barred, unit))}
      {wayOut !== null && ` ${asSentence(wayOut)}`}
    </p>
  )
}
