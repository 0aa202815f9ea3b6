import { lazy, Suspense, useEffect, useRef, useState } from 'react'
import { goOnTo } from '../../bench/springback.ts'
import { capital } from '../../document/capital.ts'
import { parseAngle } from '../../document/quantity.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { ArmCare, CloseCalls } from './CloseCalls.tsx'
import { dialAhead, dialOf } from './dial.ts'
import { FarEnd } from './FarEnd.tsx'
import { FinishedPage } from './FinishedPage.tsx'
import { benchAngle, shownDial, shownStop, signedAngle } from './figures.ts'
import { Instruction, ThisBend } from './Instruction.tsx'
import { NumberPad } from './NumberPad.tsx'
import type { Programme } from './programme.ts'
import { type Progress, trialsOf, withAt } from './progress.ts'
import { StepStrip } from './StepStrip.tsx'
import type { Screen } from './screens.ts'
import { screensAt } from './useBending.ts'
import { useClearances } from './useClearances.ts'
import { useWakeLock } from './useWakeLock.ts'

const BenchScene = lazy(() => import('./BenchScene.tsx'))

interface Props {
  readonly programme: Programme
  readonly progress: Progress
  readonly kept: boolean
  change(patch: Partial<Progress>): void
}

/** One step a screen, from stock to finished tube, by "Done" and a number pad. */
export function StepPage({ programme, progress, kept, change }: Props) {
  const { screens, at } = screensAt(programme, progress)
  const screen = screens[at]!
  const [typed, setTyped] = useState('')
  const [reason, setReason] = useState<string | null>(null)
  const [request, setRequest] = useState<{ motion: string; serial: number } | null>(null)
  const awake = useWakeLock(true)
  const clearing = useClearances(programme)
  const main = useRef<HTMLElement>(null)
  const doneButton = useRef<HTMLButtonElement>(null)
  const measuring = screen.kind === 'readShort' || screen.kind === 'measure'

  const go = (to: number, patch: Partial<Progress> = {}) => {
    setTyped('')
    setReason(null)
    setRequest(null)
    change({ ...patch, screen: to })
    main.current?.scrollTo(0, 0)
  }
  const done = () => {
    if (!measuring || typed.trim() === '') return go(at + 1)
    const read = readAngle(typed)
    if (typeof read === 'string') return setReason(read)
    const i = screen.step
    const step = programme.layout.steps[i]!
    if (screen.kind === 'readShort') {
      if (read >= step.angle)
        return setReason(
          `${benchAngle(read)}° is already past the wanted ${benchAngle(step.angle)}°: check the protractor, or note it as the finished angle on the next screen but one`,
        )
      return go(at + 1, {
        short: withAt(progress.short, i, { dial: shownStop(step.angle), measured: read }),
      })
    }
    const dial = shownDial(dialOf(programme, progress, i) ?? step.angle)
    go(at + 1, { measured: withAt(progress.measured, i, { dial, measured: read }) })
  }
  useEffect(() => {
    const { steps } = programme.layout
    const name =
      'step' in screen
        ? `Bend ${steps[screen.step]!.bend + 1}, step ${screen.step + 1} of ${steps.length}:`
        : ''
    sessionStore.getState().say(`${name} ${SAID[screen.kind]}`.trim())
  }, [screen, programme])
  // A screen that took the focused field with it leaves the keyboard on "Done".
  useEffect(() => {
    if (at >= 0 && document.activeElement === document.body)
      doneButton.current?.focus({ preventScroll: true })
  }, [at])

  const step = 'step' in screen ? screen.step : null
  return (
    <main className="bending-steps" ref={main}>
      <header className="bending-head">
        <button type="button" className="toStart" onClick={() => change({ screen: null, leftAt: at })}>
          Start page
        </button>
        <span className="tag">
          {programme.run.tag} <small>{programme.bender.name}</small>
        </span>
        <StepStrip programme={programme} screens={screens} at={at} />
      </header>
      <div className={`bending-body ${screen.kind}`}>
        <section className="bending-left" aria-live="polite" aria-label="What to do now">
          {step !== null && (
            <p className="bending-which">
              Bend {programme.layout.steps[step]!.bend + 1} · step {step + 1} of{' '}
              {programme.layout.steps.length}
            </p>
          )}
          <Instruction programme={programme} progress={progress} screen={screen} change={change} />
          {screen.kind === 'finished' && (
            <FinishedPage programme={programme} progress={progress} change={change} />
          )}
          {screen.kind === 'measure' && (
            <ArmCare clearing={clearing} step={screen.step} tubeOutFirst={programme.layout.tubeOutFirst} />
          )}
          {screen.kind === 'readShort' && (
            <ShortEffect programme={programme} step={screen.step} typed={typed} />
          )}
          {screen.kind === 'measure' && (
            <Effect programme={programme} progress={progress} step={screen.step} typed={typed} />
          )}
          <ThisBend programme={programme} progress={progress} screen={screen} />
        </section>
        {measuring ? (
          <section className="bending-right" aria-label="Measured angle">
            <NumberPad
              name="measured angle"
              unit="°"
              value={typed}
              reason={reason}
              done={done}
              change={text => {
                setTyped(text)
                setReason(null)
              }}
            />
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
                  motion={motionOf(screen)}
                  clearances={clearing.kind === 'known' ? (clearing.steps[step]?.motions ?? null) : null}
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
        <p className="quiet">
          {!kept && 'This browser keeps nothing: the step is lost on reload. '}
          {!awake && 'The screen may go dark by itself.'}
        </p>
        {screen.kind === 'finished' ? (
          <button
            type="button"
            className="primary done"
            onClick={() =>
              change({
                screen: null,
                leftAt: null,
                figures: null,
                measured: progress.measured.map(() => null),
                short: progress.short.map(() => null),
                extra: trialsOf(progress),
                stopShort: progress.stopShort === 'first' ? 'never' : progress.stopShort,
              })
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
  around: 'swing the tube end for end',
  slide: 'slide to the mark',
  turn: 'turn the tube',
  short: 'bend, but stop short',
  readShort: 'measure the angle that stayed',
  bend: 'bend',
  measure: 'measure',
  finished: 'The tube is finished',
}

const motionOf = (screen: Screen): 'slide' | 'turn' | 'bend' =>
  screen.kind === 'turn' ? 'turn' : screen.kind === 'bend' || screen.kind === 'short' ? 'bend' : 'slide'

function readAngle(text: string): number | string {
  const read = parseAngle(text)
  if (!read.ok) return read.reason
  return read.deg > 0 && read.deg < 180
    ? read.deg
    : `${text}° is no bend angle: wanted more than 0° and less than 180°`
}

/** What a short stop says about the dial, and where to go on to. */
function ShortEffect({ programme, step, typed }: { programme: Programme; step: number; typed: string }) {
  const { angle } = programme.layout.steps[step]!
  const read = typed.trim() === '' ? null : readAngle(typed)
  if (typeof read !== 'number') return <p className="bending-effect quiet">{read ?? 'No angle typed yet.'}</p>
  const trial = { dial: shownStop(angle), measured: read }
  return (
    <p className="bending-effect">
      {capital(dialAhead(trial.dial - trial.measured))}: go on to <b>{benchAngle(goOnTo(angle, trial))}°</b>.
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
          <b>{signedAngle(read - layout.steps[step]!.angle)}°</b> to the wanted angle
          {others && ', with the bends measured before'}:{' '}
        </>
      }
    />
  )
}
