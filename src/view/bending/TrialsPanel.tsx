import { useState } from 'react'
import { askAboutAngle, askAboutDial } from '../../bender/askAboutAngle.ts'
import { askAboutSpringback } from '../../bender/askAboutSpringback.ts'
import { type SpringbackFit, springbackRecord, type Trial } from '../../bender/springback.ts'
import { fitAtBench, meanOffset, outliersOf } from '../../bender/trialsAtBench.ts'
import { capital } from '../../document/capital.ts'
import { springbackOf } from '../../document/lookUp.ts'
import { formatAngle, parseAngle } from '../../document/quantity.ts'
import { inMm, type Sentence } from '../../document/sentence.ts'
import type { Springback } from '../../document/types.ts'
import { springbackAt } from '../../solve/making.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { knownSpringbacks } from './askAtBench.ts'
import { fitOf } from './dial.ts'
import { benchAngle, signedAngle } from './figures.ts'
import type { Programme } from './programme.ts'
import { allTrials, fitKey, type KeptTrial, leftOut, type Progress } from './progress.ts'
import { Question } from './Question.tsx'
import { TrialPlot } from './TrialPlot.tsx'

interface Props {
  readonly programme: Programme
  readonly progress: Progress
  change(patch: Partial<Progress>): void
}

/** Dial against measured angle, as it happened, and what that says about the springback of this tube. */
export function TrialsPanel({ programme, progress, change }: Props) {
  const trials = allTrials(progress)
  const counted = trials.filter(t => !t.out)
  const off = outliersOf(counted)
  const fit = fitOf(progress)
  const { bender, run, solved, tooling } = programme
  const record = springbackOf(bender, run)
  const wanted = solved.route?.bends.map(b => b.angle) ?? []
  const doubt =
    typeof fit === 'string'
      ? null
      : askAboutSpringback(springbackRecord(run.tube.material, fit), wanted, tooling.maxAngle)
  const agreed = progress.agreedFit === fitKey(progress)
  const goesByTrials = record === null || progress.dialFrom === 'trials'
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
          <div className="tableScroll">
            <table className="bending-table trials">
              <thead>
                <tr>
                  <th>counts</th>
                  <th>trial</th>
                  <th className="number">dial °</th>
                  <th className="number">measured °</th>
                  <th className="number">springback °</th>
                  <th>agreement</th>
                </tr>
              </thead>
              <tbody>
                {trials.map((t, i) => {
                  const name = trialName(t, progress)
                  return (
                    <tr key={`${t.list}${t.at}`} className={t.out ? 'out' : ''}>
                      <td>
                        <input
                          type="checkbox"
                          checked={!t.out}
                          aria-label={`trial ${i + 1}, ${name}, counts`}
                          onChange={() => change(leftOut(progress, t, !t.out))}
                        />
                      </td>
                      <td>
                        {i + 1} <span className="quiet">{name}</span>
                      </td>
                      <td className="number">{benchAngle(t.dial)}</td>
                      <td className="number">{benchAngle(t.measured)}</td>
                      <td className="number">{signedAngle(t.dial - t.measured)}</td>
                      <td>{agrees(t, counted, off, fit)}</td>
                    </tr>
                  )
                })}
              </tbody>
            </table>
          </div>
          <TrialPlot trials={trials} off={offOfAll(trials, off)} fit={typeof fit === 'string' ? null : fit} />
        </div>
      )}
      {typeof fit === 'string'
        ? trials.length > 0 && (
            <p className="bending-warn">
              {counted.length === 0 ? 'All are left out: there is no result.' : `No line fits these: ${fit}`}
            </p>
          )
        : counted.length > 0 && <p>{fitWords(fit, counted.length)}</p>}
      {doubt !== null && (
        <div className="bending-warn" role="alert">
          <p>These trials are not plausible: {inMm(doubt.sentence)}. Leave out what slipped.</p>
          {goesByTrials &&
            (agreed ? (
              <p>The dial uses them anyway.</p>
            ) : (
              <button type="button" onClick={() => change({ agreedFit: fitKey(progress) })}>
                Use them for the dial anyway
              </button>
            ))}
        </div>
      )}
      {record && counted.length > 0 && typeof fit !== 'string' && (
        <label className="bending-check">
          <input
            type="checkbox"
            checked={progress.dialFrom === 'trials'}
            onChange={event => change({ dialFrom: event.currentTarget.checked ? 'trials' : 'record' })}
          />
          Take this run’s dial readings from these trials, not from the bender’s record
        </label>
      )}
      <AddTrial
        ask={trial =>
          askAboutDial(trial.dial, tooling.maxAngle) ??
          askAboutAngle(trial, knownSpringbacks(programme, progress))
        }
        add={trial => change({ extra: [...progress.extra, trial] })}
      />
      {counted.length > 0 && <KeepRecord programme={programme} trials={counted} record={record} />}
    </section>
  )
}

const trialName = ({ list, at }: KeptTrial, progress: Progress): string =>
  list === 'extra'
    ? 'another piece'
    : `bend ${progress.order[at]!.bend + 1}, ${list === 'short' ? 'stopped short' : 'finished'}`

/** Whether a trial agrees with the others, in words. */
function agrees(
  trial: KeptTrial,
  counted: readonly KeptTrial[],
  off: readonly (number | null)[],
  fit: SpringbackFit | string,
): string {
  if (trial.out) return 'left out'
  const i = counted.indexOf(trial)
  const by = off[i] ?? null
  if (by !== null)
    return `! ${benchAngle(by)}° ${by > 0 ? 'above' : 'below'} what ${counted.length === 2 ? 'the other one gives' : 'the others give'}`
  return typeof fit === 'string' ? '—' : `within ${benchAngle(fit.residuals[i] ?? 0)}°`
}

/** By how much each is an outlier, in the order of all of them; null for one that agrees or is left out. */
const offOfAll = (trials: readonly KeptTrial[], off: readonly (number | null)[]): (number | null)[] => {
  let at = 0
  return trials.map(t => (t.out ? null : (off[at++] ?? null)))
}

const fitWords = (fit: SpringbackFit, count: number): string =>
  fit.kind === 'offset'
    ? `${count === 1 ? 'One trial' : 'The mean of these trials'}: the dial reads ${benchAngle(0 - fit.a)}° ${fit.a <= 0 ? 'more' : 'less'} than the tube.`
    : `measured = ${formatAngle(fit.a, 2).replace('-', '−')}° + ${fit.b.toFixed(4)} · dial, over ${benchAngle(fit.range[0])}°–${benchAngle(fit.range[1])}°.`

/** What of the trials becomes the bender's record: chosen, seen beside the record of now, and asked about. */
function KeepRecord({
  programme,
  trials,
  record,
}: {
  programme: Programme
  trials: readonly Trial[]
  record: Springback | null
}) {
  const { bender, run, layout, tooling } = programme
  const [chosen, setChosen] = useState<'line' | 'mean' | null>(null)
  const line = attempt(() => fitAtBench(trials))
  const mean = attempt(() => meanOffset(trials))
  const ways = [
    ...(line?.kind === 'line'
      ? [{ way: 'line' as const, fit: line, text: `the line through ${trials.length} trials` }]
      : []),
    ...(mean
      ? [
          {
            way: 'mean' as const,
            fit: mean,
            text:
              trials.length === 1
                ? 'the offset of the one trial'
                : `the mean offset of ${trials.length} trials`,
          },
        ]
      : []),
  ]
  const picked = ways.find(w => w.way === chosen) ?? ways[0]
  if (!picked) return null
  const next = springbackRecord(run.tube.material, picked.fit)
  const angles = layout.steps.map(s => s.angle).sort((a, b) => a - b)
  const doubt = askAboutSpringback(next, [...angles, ...picked.fit.range], tooling.maxAngle)
  const keep = () => {
    documentStore.getState().apply(`Springback of ${run.tube.material} from trials`, document => ({
      ...document,
      benders: document.benders.map(b =>
        b.id === bender.id
          ? { ...b, springback: [...b.springback.filter(s => s.material !== next.material), next] }
          : b,
      ),
    }))
    sessionStore
      .getState()
      .say(`${bender.name} now has ${picked.text} as its springback record. Undo takes it back.`)
  }
  return (
    <details className="bending-keep">
      <summary>Save as the bender’s record…</summary>
      <div className="bending-row">
        {ways.map(w => (
          <label key={w.way} className="bending-check">
            <input
              type="radio"
              name="keep"
              checked={w.way === picked.way}
              onChange={() => setChosen(w.way)}
            />
            {w.text}
          </label>
        ))}
      </div>
      <table className="bending-table">
        <thead>
          <tr>
            <th className="number">finished °</th>
            <th className="number">dial by the current record °</th>
            <th className="number">dial by these trials °</th>
          </tr>
        </thead>
        <tbody>
          {[...new Set(angles)].map(angle => (
            <tr key={angle}>
              <td className="number">{benchAngle(angle)}</td>
              <td className="number">
                {record ? benchAngle(angle + springbackAt(record, angle)) : 'not known'}
              </td>
              <td className="number strong">{benchAngle(angle + springbackAt(next, angle))}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {doubt && <p className="bending-warn">Not plausible: {inMm(doubt.sentence)}.</p>}
      <button type="button" onClick={keep}>
        {doubt ? 'Save it anyway' : 'Save as the bender’s record'}
      </button>
    </details>
  )
}

function attempt<T>(make: () => T): T | null {
  try {
    return make()
  } catch {
    return null
  }
}

function AddTrial({ ask, add }: { ask: (trial: Trial) => Sentence | null; add: (trial: Trial) => void }) {
  const [dial, setDial] = useState('')
  const [measured, setMeasured] = useState('')
  const [reason, setReason] = useState<string | null>(null)
  const [asked, setAsked] = useState<{ sentence: Sentence; trial: Trial } | null>(null)
  const take = (trial: Trial) => {
    setAsked(null)
    setDial('')
    setMeasured('')
    add(trial)
  }
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
          return setReason(
            `found ${dial}° and ${measured}°; wanted a dial above 0° and below 360°, measured above 0° and below 180°`,
          )
        setReason(null)
        const trial = { dial: a.deg, measured: b.deg }
        const sentence = ask(trial)
        if (sentence) setAsked({ sentence, trial })
        else take(trial)
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
      {asked && (
        <Question
          answers={[
            { says: 'Correct', take: () => setAsked(null) },
            { says: 'Use', take: () => take(asked.trial) },
          ]}
        >
          {capital(inMm(asked.sentence))}. Use or correct?
        </Question>
      )}
    </form>
  )
}
