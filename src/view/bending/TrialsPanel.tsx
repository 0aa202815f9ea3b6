import { useState } from 'react'
import { type SpringbackFit, springbackRecord, type Trial } from '../../bench/springback.ts'
import { fitAtBench } from '../../bench/trialsAtBench.ts'
import { springbackOf } from '../../document/lookUp.ts'
import { parseAngle } from '../../document/quantity.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { benchAngle, signedAngle } from './figures.ts'
import type { Programme } from './programme.ts'
import { type Progress, trialsOf } from './progress.ts'
import { TrialPlot } from './TrialPlot.tsx'

interface Props {
  readonly programme: Programme
  readonly progress: Progress
  change(patch: Partial<Progress>): void
}

/** Dial against measured angle, as it happened, and what that says about the springback of this tube. */
export function TrialsPanel({ programme, progress, change }: Props) {
  const trials = trialsOf(progress)
  const rows = trials.map((t, i) => ({ ...t, name: `${i + 1}` }))
  const fit = attempt(trials)
  const { bender, run } = programme
  const record = springbackOf(bender, run)
  const takeOver = () => {
    if (typeof fit === 'string') return
    const next = springbackRecord(run.tube.material, fit)
    documentStore.getState().apply(`Springback of ${run.tube.material} from trials`, document => ({
      ...document,
      benders: document.benders.map(b =>
        b.id === bender.id
          ? { ...b, springback: [...b.springback.filter(s => s.material !== next.material), next] }
          : b,
      ),
    }))
    sessionStore.getState().say(`${bender.name} now has these trials as its springback record`)
  }
  return (
    <section className="bending-trials" aria-label="Trial bends">
      <h3>
        Trial bends of {run.tube.material} on {bender.name}
      </h3>
      {trials.length === 0 ? (
        <p className="quiet">
          None yet. Every angle measured at the bench is one; pieces bent elsewhere can be entered here.
        </p>
      ) : (
        <div className="trialsGrid">
          <table className="bending-table">
            <thead>
              <tr>
                <th>trial</th>
                <th className="number">dial °</th>
                <th className="number">measured °</th>
                <th className="number">residual °</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((t, i) => (
                <tr key={t.name}>
                  <td>{t.name}</td>
                  <td className="number">{benchAngle(t.dial)}</td>
                  <td className="number">{benchAngle(t.measured)}</td>
                  <td className="number">
                    {typeof fit === 'string' ? '—' : signedAngle(fit.residuals[i] ?? 0)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <TrialPlot trials={trials} fit={typeof fit === 'string' ? null : fit} />
        </div>
      )}
      {typeof fit === 'string'
        ? trials.length > 0 && <p className="bending-warn">No line through these: {fit}</p>
        : trials.length > 0 && (
            <p>
              {fit.kind === 'offset'
                ? `${trials.length === 1 ? 'One trial' : 'Trials too near together for a line, so their mean'}: the dial is ${benchAngle(0 - fit.a)}° ${fit.a <= 0 ? 'ahead of' : 'behind'} the tube.`
                : `measured = ${fit.a.toFixed(2).replace('-', '−')}° + ${fit.b.toFixed(4)} · dial, over ${benchAngle(fit.range[0])}°–${benchAngle(fit.range[1])}°.`}
            </p>
          )}
      <AddTrial add={trial => change({ extra: [...progress.extra, trial] })} />
      {trials.length > 0 && typeof fit !== 'string' && (
        <div className="bending-row">
          {record && (
            <label className="bending-check">
              <input
                type="checkbox"
                checked={progress.dialFrom === 'trials'}
                onChange={event => change({ dialFrom: event.currentTarget.checked ? 'trials' : 'record' })}
              />
              Dial readings of this run by these trials, not by the bender’s record
            </label>
          )}
          <button type="button" onClick={takeOver}>
            Keep as the bender’s record
          </button>
          {progress.extra.length > 0 && (
            <button type="button" onClick={() => change({ extra: [] })}>
              Forget trials on other pieces
            </button>
          )}
        </div>
      )}
    </section>
  )
}

/** The fit, or the reason why there is none. */
function attempt(trials: readonly Trial[]): SpringbackFit | string {
  try {
    return fitAtBench(trials)
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}

function AddTrial({ add }: { add: (trial: Trial) => void }) {
  const [dial, setDial] = useState('')
  const [measured, setMeasured] = useState('')
  const [reason, setReason] = useState<string | null>(null)
  return (
    <form
      className="bending-row"
      onSubmit={event => {
        event.preventDefault()
        const a = parseAngle(dial)
        const b = parseAngle(measured)
        if (!a.ok) return setReason(`dial: ${a.reason}`)
        if (!b.ok) return setReason(`measured: ${b.reason}`)
        if (!(a.deg > 0 && a.deg < 360 && b.deg > 0 && b.deg < 180))
          return setReason('angles above 0° are wanted, measured below 180°')
        setReason(null)
        setDial('')
        setMeasured('')
        add({ dial: a.deg, measured: b.deg })
      }}
    >
      <label>
        dial °{' '}
        <input
          className="number short"
          inputMode="decimal"
          value={dial}
          onChange={event => setDial(event.currentTarget.value)}
        />
      </label>
      <label>
        measured °{' '}
        <input
          className="number short"
          inputMode="decimal"
          value={measured}
          onChange={event => setMeasured(event.currentTarget.value)}
        />
      </label>
      <button type="submit">Add a trial</button>
      {reason && (
        <span role="alert" className="field-reason">
          {reason}
        </span>
      )}
    </form>
  )
}
