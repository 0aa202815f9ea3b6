import { useSession } from '../useStore.ts'
import {
  asSentence,
  barredWords,
  CLOSE_MM,
  clearanceSentence,
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
  /** Where the dial will go, degrees; past what was certified is said. */
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
        Working out what the tube comes close to… {clearing.done} of {clearing.of}
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
  return (
    <div className="bending-calls">
      {found.hold && (
        <p className="callHold">
          <span className="judge contact">✕ cannot be held</span>{' '}
          {found.hold.need === 'clampGrip' ? 'clamp grip' : 'follower'}: straight{' '}
          {benchLength(found.hold.measured, unit)}, needs {benchLength(found.hold.limit, unit)}{' '}
          {unitWord(unit)}
        </p>
      )}
      <ul>
        {found.motions.map(m => {
          const verdict = judge(m)
          return (
            <li
              key={m.motion}
              className={verdict}
              title={m.leftOut === null ? undefined : `Left out: ${m.leftOut}`}
            >
              <span className={`judge ${verdict}`}>{SIGN[verdict]}</span>
              {verdict === 'clear' ? (
                <span>
                  {MOTION_WORDS[m.motion]}, ≥ {benchLength(m.atLeast!, unit)} {unitWord(unit)}
                </span>
              ) : (
                <span>
                  {clearanceSentence(m, unit)}
                  {m.motion === 'armBack' && wayOut !== null && (
                    <small className="callHelp">{asSentence(wayOut)}</small>
                  )}
                </span>
              )}
              {show && m.at !== null && verdict !== 'clear' && (
                <button type="button" onClick={() => show(m.motion)}>
                  Show
                </button>
              )}
            </li>
          )
        })}
      </ul>
      {bend && dial !== null && dial > bend.to + 0.05 && (
        <p>
          <span className="judge notChecked">{SIGN.notChecked}</span> past {benchAngle(bend.to)}°, where the
          dial will go to {benchAngle(dial)}°
        </p>
      )}
      <p className="quiet small">
        Certified over the whole motion; under {benchLength(CLOSE_MM, unit)} {unitWord(unit)} is called close.
      </p>
    </div>
  )
}

/** What to mind once the bend is made: the tube comes out before the arm goes back, always or because of this bend. */
export function ArmCare({
  clearing,
  step,
  tubeOutFirst,
}: Pick<Props, 'clearing' | 'step'> & { readonly tubeOutFirst: boolean }) {
  const unit = useSession(state => state.unit)
  if (tubeOutFirst) return <p className="bending-out">Take the tube out before the arm goes back.</p>
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
