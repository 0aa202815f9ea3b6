import { lazy, Suspense, useEffect, useRef, useState } from 'react'
import { goOnTo } from '../../bender/springback.ts'
import { capital } from '../../document/capital.ts'
import { parseAngle } from '../../document/quantity.ts'
import { inUnit } from '../../document/sentence.ts'
import type { SkidDocument } from '../../document/types.ts'
import { takeOut } from '../../outputs/stepWords.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useSession } from '../useStore.ts'
import { type Asked, dialThere, type Measuring, questionsAbout, type Reading } from './askAtBench.ts'
import { ArmCare, CloseCalls, HitsAhead } from './CloseCalls.tsx'
import { dialAhead, dialOf } from './dial.ts'
import { FarEnd } from './FarEnd.tsx'
import { FinishedPage } from './FinishedPage.tsx'
import { benchAngle, shownStop, signedAngle } from './figures.ts'
import { Instruction, ThisBend } from './Instruction.tsx'
import { NumberPad } from './NumberPad.tsx'
import type { Programme } from './programme.ts'
import { newPiece, type Progress, withAt } from './progress.ts'
import { type Answer, Question } from './Question.tsx'
import { ReleaseNote } from './ReleaseNote.tsx'
import { StepStrip } from './StepStrip.tsx'
import { beginsStep, type Screen } from './screens.ts'
import { screensAt } from './useBending.ts'
import { useClearances } from './useClearances.ts'
import { useRelease } from './useRelease.ts'
import { useWakeLock } from './useWakeLock.ts'

const BenchScene = lazy(() => import('./BenchScene.tsx'))

interface Props {
  readonly document: SkidDocument
  readonly programme: Programme
  readonly progress: Progress
  readonly kept: boolean
  change(patch: Partial<Progress>): void
}

/** One step a screen, from stock to finished tube, by "Done" and a number pad. */
export function StepPage({ document: skid, programme, progress, kept, change }: Props) {
  const unit = useSession(state => state.unit)
  const { screens, at } = screensAt(programme, progress)
  const screen = screens[at]!
  const begins = beginsStep(screens, screen)
  const [typed, setTyped] = useState('')
  /** What was typed as dial reading; null: as it is thought to stand. */
  const [typedDial, setTypedDial] = useState<string | null>(null)
  const [active, setActive] = useState<'measured' | 'dial'>('measured')
  const [reason, setReason] = useState<string | null>(null)
  const [asked, setAsked] = useState<(Asked & { readonly reading: Reading }) | null>(null)
  const [request, setRequest] = useState<{ motion: string; serial: number } | null>(null)
  const awake = useWakeLock(true)
  const clearing = useClearances(programme)
  const release = useRelease(skid, programme, clearing)
  const main = useRef<HTMLElement>(null)
  const doneButton = useRef<HTMLButtonElement>(null)
  const measuring: Measuring | null =
    screen.kind === 'readShort' || screen.kind === 'measure' ? { kind: screen.kind, step: screen.step } : null
  const there = measuring && dialThere(programme, progress, measuring)
  const dialText = typedDial ?? (there === null ? '' : benchAngle(there))

  const go = (to: number, patch: Partial<Progress> = {}, measured = '', dial: string | null = null) => {
    setTyped(measured)
    setTypedDial(dial)
    setActive('measured')
    setReason(null)
    setAsked(null)
    setRequest(null)
    change({ ...patch, screen: to })
    main.current?.scrollTo(0, 0)
  }
  /** Uses a reading unless something of it has still to be asked. */
  const use = (reading: Reading, answered: readonly Asked['kind'][] = []) => {
    if (!measuring) return
    const next = questionsAbout(programme, progress, measuring, reading).find(q => !answered.includes(q.kind))
    if (next) return setAsked({ ...next, reading })
    const { dial, measured } = reading
    const i = measuring.step
    if (measuring.kind === 'measure')
      return go(at + 1, { measured: withAt(progress.measured, i, { dial, measured }) })
    if (dial === null) return setReason('Type the dial reading as well.')
    go(at + 1, { short: withAt(progress.short, i, { dial, measured }) })
  }
  const done = () => {
    if (!measuring || (typed.trim() === '' && typedDial === null)) return go(at + 1)
    const read = readAngle(typed)
    if (typeof read === 'string') {
      setActive('measured')
      return setReason(read)
    }
    const dial = dialText.trim() === '' ? null : readDial(dialText)
    if (typeof dial === 'string') {
      setActive('dial')
      return setReason(dial)
    }
    use({ dial, measured: read })
  }
  useEffect(() => {
    const { steps } = programme.layout
    const name =
      'step' in screen
        ? `Bend ${steps[screen.step]!.bend + 1}, step ${screen.step + 1} of ${steps.length}:`
        : ''
    const out = 'step' in screen && begins ? takeOut(programme.atDie[screen.step]!) : null
    sessionStore
      .getState()
      .say(
        [name, out, out === null ? SAID[screen.kind] : capital(SAID[screen.kind])].filter(Boolean).join(' '),
      )
  }, [screen, begins, programme])
  // A screen that took the focused field with it leaves the keyboard on "Done".
  useEffect(() => {
    if (at >= 0 && document.activeElement === document.body)
      doneButton.current?.focus({ preventScroll: true })
  }, [at])

  const answers = ({ kind, reading }: Asked & { readonly reading: Reading }): Answer[] => {
    const correct = (field: 'measured' | 'dial') => () => {
      setAsked(null)
      setActive(field)
    }
    if (kind === 'overbent')
      return [
        { says: 'Type the dial reading', take: correct('dial') },
        { says: `It read ${dialText}°`, take: () => use(reading, ['overbent']) },
        { says: 'Not known', take: () => use({ ...reading, dial: null }, ['overbent']) },
      ]
    if (kind === 'past')
      return [
        { says: 'Correct', take: correct('measured') },
        {
          says: `Keep the bend at ${typed}°`,
          // The bend screen between has nothing left to do.
          take: () => go(at + 2, {}, typed, dialText),
        },
      ]
    const [field, text] = kind === 'dial' ? (['dial', dialText] as const) : (['measured', typed] as const)
    return [
      { says: 'Correct', take: correct(field) },
      { says: `Use ${text}°`, take: () => use(reading, kind === 'dial' ? ['dial'] : ['dial', kind]) },
    ]
  }
  const step = 'step' in screen ? screen.step : null
  const motionsAt = (i: number) => (clearing.kind === 'known' ? (clearing.steps[i]?.motions ?? null) : null)
  const bendingNow = screen.kind === 'bend' || screen.kind === 'short'
  return (
    <main className="bending-steps" ref={main}>
      <header className="bending-head">
        <button type="button" className="toStart" onClick={() => change({ screen: null, leftAt: at })}>
          Start page
        </button>
        <span className="tag">
          {programme.run.tag} <small>{programme.bender.name}</small>
        </span>
        {release && release.state !== 'released' && (
          <span className="bending-unreleased" title={release.detail}>
            {release.text}
          </span>
        )}
        <StepStrip programme={programme} screens={screens} at={at} clearing={clearing} />
      </header>
      <div className={`bending-body ${screen.kind}`}>
        <section className="bending-left" aria-live="polite" aria-label="What to do now">
          {step !== null && (
            <p className="bending-which">
              Bend {programme.layout.steps[step]!.bend + 1} · step {step + 1} of{' '}
              {programme.layout.steps.length}
            </p>
          )}
          {step !== null && <HitsAhead clearing={clearing} step={step} />}
          <Instruction
            programme={programme}
            progress={progress}
            screen={screen}
            begins={begins}
            change={change}
          />
          {screen.kind === 'cut' && release && <ReleaseNote release={release} goneOn={progress.goneOn} />}
          {screen.kind === 'finished' && (
            <FinishedPage programme={programme} progress={progress} release={release} change={change} />
          )}
          {screen.kind === 'measure' && (
            <ArmCare clearing={clearing} step={screen.step} tubeOutFirst={programme.layout.tubeOutFirst} />
          )}
          {screen.kind === 'readShort' && (
            <ShortEffect programme={programme} step={screen.step} typed={typed} typedDial={dialText} />
          )}
          {screen.kind === 'measure' && (
            <Effect programme={programme} progress={progress} step={screen.step} typed={typed} />
          )}
          <ThisBend programme={programme} progress={progress} screen={screen} />
        </section>
        {measuring ? (
          <section className="bending-right" aria-label="Measured angle">
            {asked ? (
              <Question answers={answers(asked)}>
                {capital(inUnit(asked.sentence, unit))}
                {asked.kind === 'angle' || asked.kind === 'dial'
                  ? `. Use ${asked.kind === 'dial' ? dialText : typed}° or correct?`
                  : asked.kind === 'past'
                    ? '.'
                    : ''}
              </Question>
            ) : (
              <NumberPad
                unit="°"
                fields={[
                  { key: 'measured', name: 'measured angle', value: typed },
                  { key: 'dial', name: 'dial reached', value: dialText },
                ]}
                active={active}
                reason={reason}
                done={done}
                choose={key => setActive(key === 'dial' ? 'dial' : 'measured')}
                change={(key, text) => {
                  if (key === 'dial') setTypedDial(text)
                  else setTyped(text)
                  setReason(null)
                }}
              />
            )}
          </section>
        ) : (
          step !== null && (
            // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, so the keyboard has to reach it
            <section className="bending-right" aria-label="At the bender" tabIndex={0}>
              <Suspense fallback={<p className="bending-wait">Drawing the bender…</p>}>
                <BenchScene
                  key={step}
                  programme={programme}
                  step={step}
                  screen={screen}
                  begins={begins}
                  stopAt={screen.kind === 'short' ? shownStop(programme.layout.steps[step]!.angle) : null}
                  clearances={motionsAt(step)}
                  clearancesBefore={motionsAt(step - 1)}
                  request={request}
                />
              </Suspense>
              <CloseCalls
                dial={dialOf(programme, progress, step)}
                clearing={clearing}
                step={step}
                show={motion => setRequest({ motion, serial: (request?.serial ?? 0) + 1 })}
              />
            </section>
          )
        )}
      </div>
      <footer className="bending-foot">
        <button type="button" className="back" disabled={at === 0} onClick={() => go(at - 1)}>
          Back
        </button>
        <p className={bendingNow ? 'bending-care' : 'quiet'}>
          {bendingNow && <b>Never let go of a loaded crank. </b>}
          {!kept && 'This browser saves nothing: the step is lost on reload. '}
          {!awake && 'The screen may switch off by itself.'}
        </p>
        {screen.kind === 'finished' ? (
          <button
            type="button"
            className="primary done"
            onClick={() =>
              change(
                newPiece(progress, {
                  stopShort: progress.stopShort === 'first' ? 'never' : progress.stopShort,
                }),
              )
            }
          >
            Next piece
          </button>
        ) : (
          <button ref={doneButton} type="button" className="primary done" onClick={done}>
            Done
          </button>
        )}
      </footer>
    </main>
  )
}

const SAID: Record<Screen['kind'], string> = {
  cut: 'Cut the stock and mark it',
  around: 'turn the tube end for end',
  slide: 'bring the mark to the die line',
  turn: 'rotate the tube',
  short: 'bend, but stop short',
  readShort: 'measure the angle after springback',
  bend: 'bend',
  measure: 'measure',
  finished: 'The tube is finished',
}

function readAngle(text: string): number | string {
  const read = parseAngle(text)
  if (!read.ok) return read.reason
  return read.deg > 0 && read.deg < 180
    ? read.deg
    : `${text}° is not a bend angle: wanted more than 0° and less than 180°`
}

function readDial(text: string): number | string {
  const read = parseAngle(text)
  if (!read.ok) return read.reason
  return read.deg > 0 ? read.deg : `${text}° is not a dial reading: wanted more than 0°`
}

/** What a short stop says about the dial, and where to go on to. */
function ShortEffect({
  programme,
  step,
  typed,
  typedDial,
}: {
  programme: Programme
  step: number
  typed: string
  typedDial: string
}) {
  const { angle } = programme.layout.steps[step]!
  const read = typed.trim() === '' ? null : readAngle(typed)
  const dial = readDial(typedDial)
  if (typeof read !== 'number' || typeof dial !== 'number')
    return <p className="bending-effect quiet">{read === null ? 'No angle typed yet.' : ''}</p>
  const trial = { dial, measured: read }
  return (
    <p className="bending-effect">
      {capital(dialAhead(trial.dial - trial.measured))}
      {read < angle && (
        <>
          : go on to <b>{benchAngle(goOnTo(angle, trial))}°</b>
        </>
      )}
      .
    </p>
  )
}

/** What the typed angle means for the end that is not held, with every angle measured so far. */
function Effect({
  programme,
  progress,
  step,
  typed,
}: {
  programme: Programme
  progress: Progress
  step: number
  typed: string
}) {
  const { layout } = programme
  const read = typed.trim() === '' ? (progress.measured[step]?.measured ?? null) : readAngle(typed)
  if (read === null) return <p className="bending-effect quiet">No angle typed yet.</p>
  if (typeof read === 'string') return <p className="bending-effect quiet">{read}</p>
  const settled = programme.solved.route!.bends.map((_, k) => {
    const i = layout.steps.findIndex(s => s.bend === k)
    return i === step ? read : (progress.measured[i]?.measured ?? null)
  })
  const others = progress.measured.some((m, i) => m !== null && i !== step)
  return (
    <FarEnd
      programme={programme}
      settled={settled}
      before={
        <>
          <b>{signedAngle(read - layout.steps[step]!.angle)}°</b> from the finished angle
          {others && ', with the bends measured before'}:{' '}
        </>
      }
    />
  )
}
