import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import type { MotionClearance } from '../../bender/clearStep.ts'
import { slideOf, tubeAtDie } from '../../bender/tubeAtDie.ts'
import { readTheme, watchTheme } from '../scene/themeColours.ts'
import { useSession } from '../useStore.ts'
import { type BenchLook, type BenchStage, benchStage } from './benchStage.ts'
import { clearanceSentence, judge } from './clearanceWords.ts'
import { benchAngle, benchLength, unitWord } from './figures.ts'
import { inView } from './inView.ts'
import { motionOn, motionsShown, type Shown } from './motionsShown.ts'
import type { Programme } from './programme.ts'
import type { Screen } from './screens.ts'

interface Props {
  readonly programme: Programme
  readonly step: number
  /** The screen that it stands on: what it is about is shown, after what is done first on it. */
  readonly screen: Screen
  /** True on the first screen of the step. */
  readonly begins: boolean
  /** Where the dial is to stop on this screen, degrees, short of the whole bend; null: it goes all the way. */
  readonly stopAt: number | null
  /** Clearances of this step's motions, or null while (or when) they are not known. */
  readonly clearances: readonly MotionClearance[] | null
  /** The same of the step before. */
  readonly clearancesBefore: readonly MotionClearance[] | null
  /** A motion whose worst moment is to be shown; counts up with every request. */
  readonly request: { readonly motion: string; readonly serial: number } | null
}

const PLAY_MS = 2600
const LOOKS: readonly { look: BenchLook; label: string }[] = [
  { look: 'tail', label: 'From the tail' },
  { look: 'above', label: 'From above' },
  { look: 'side', label: 'From the side' },
]

/** The bender with the tube moving through this step's motions under a scrubber; contact is frozen and lit. */
export default function BenchScene({
  programme,
  step,
  screen,
  begins,
  stopAt,
  clearances,
  clearancesBefore,
  request,
}: Props) {
  const { layout, stock, bender, tooling, run } = programme
  const unit = useSession(state => state.unit)
  const plain = useSession(state => state.detail) === 'plain'
  const canvas = useRef<HTMLCanvasElement>(null)
  const stage = useRef<BenchStage | null>(null)
  const [failed, setFailed] = useState(false)
  const [look, setLook] = useState<BenchLook>('tail')

  const motions = useMemo(
    () => motionsShown(programme, step, clearances, clearancesBefore),
    [programme, step, clearances, clearancesBefore],
  )
  const wantedIndex = motionOn(screen, motions)
  const firstIndex = begins ? 0 : wantedIndex
  const [index, setIndex] = useState(firstIndex)
  const [fraction, setFraction] = useState(0)
  const [playing, setPlaying] = useState(true)
  const shown = motions[Math.min(index, motions.length - 1)]!
  const hit = shown.clearance?.depth != null ? shown.clearance : null
  const hitAt = hit?.at != null ? fractionOf(shown, hit.at) : null
  const stopped = shown.motion === 'bend' && stopAt !== null ? fractionOf(shown, stopAt) : 1

  useEffect(() => {
    setIndex(firstIndex)
    setFraction(0)
    setPlaying(true)
  }, [firstIndex])

  useEffect(() => {
    if (!playing) return
    const end = Math.min(hitAt ?? 1, stopped)
    // What comes first on this screen is followed by what the screen is about.
    const goesOn = begins && hitAt === null && index < wantedIndex
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      if (goesOn) setIndex(wantedIndex)
      else {
        setFraction(end)
        setPlaying(false)
      }
      return
    }
    let frame = 0
    let began: number | null = null
    const tick = (now: number) => {
      began ??= now
      const t = Math.min(end, (now - began) / PLAY_MS)
      setFraction(t)
      if (t < end) frame = requestAnimationFrame(tick)
      else if (goesOn) {
        setIndex(index + 1)
        setFraction(0)
      } else setPlaying(false)
    }
    frame = requestAnimationFrame(tick)
    return () => cancelAnimationFrame(frame)
  }, [playing, hitAt, stopped, index, wantedIndex, begins])

  // After what plays by itself: a moment that was asked for before the picture was there is what it opens with.
  useEffect(() => {
    if (!request) return
    const found = motions.findIndex(m => m.motion === request.motion)
    const at = motions[found]?.clearance?.at
    if (found < 0 || at == null) return
    setPlaying(false)
    setIndex(found)
    setFraction(fractionOf(motions[found]!, at))
  }, [request, motions])

  const { lift } = shown
  const points = useMemo(
    () => inView(programme, step, shown.motion, lift),
    [programme, step, shown.motion, lift],
  )
  // A bender that is drawn anew is looked at as before.
  const framing = useRef([look, points] as const)
  framing.current = [look, points]
  useEffect(() => {
    const element = canvas.current
    const box = element?.parentElement
    if (!element || !box) return
    let made: BenchStage
    try {
      made = benchStage(element, bender, tooling, run.tube.wall, plain)
    } catch {
      setFailed(true)
      return
    }
    stage.current = made
    made.look(...framing.current)
    made.setColours(readTheme())
    const observer = new ResizeObserver(() => {
      const { width, height } = box.getBoundingClientRect()
      if (width > 1 && height > 1) made.resize(width, height)
    })
    const { width, height } = box.getBoundingClientRect()
    made.resize(Math.max(2, width), Math.max(2, height))
    observer.observe(box)
    const stop = watchTheme(() => made.setColours(readTheme()))
    return () => {
      stop()
      observer.disconnect()
      made.dispose()
      stage.current = null
    }
  }, [bender, tooling, run.tube.wall, plain])

  useEffect(() => stage.current?.look(look, points), [look, points])

  useEffect(() => {
    const at = tubeAtDie(layout, stock, step, shown.motion, fraction, lift)
    const touching = hit !== null && hitAt !== null && Math.abs(fraction - hitAt) < 0.02
    const c = tooling.referenceOffset
    const mark =
      shown.motion === 'slide'
        ? (fraction - 1) * slideOf(layout, step) - c
        : shown.motion === 'turn'
          ? 0 - c
          : null
    stage.current?.show(at, touching ? { part: hit.part, solid: hit.solid } : null, mark)
  }, [layout, stock, step, shown, fraction, lift, hit, hitAt, tooling])

  const play = useCallback((to: number) => {
    setIndex(to)
    setFraction(0)
    setPlaying(true)
  }, [])

  const reads = shown.from + (shown.to - shown.from) * fraction
  const said =
    shown.unit === 'deg' ? `${benchAngle(reads)}°` : `${benchLength(Math.abs(reads), unit)} ${unitWord(unit)}`
  return (
    <div className="bending-scene">
      <div className="sceneBox">
        {failed ? (
          <p className="bending-wait">
            WebGL is not available, so there is no 3D picture. Figures and clearances are not affected.
          </p>
        ) : (
          <canvas ref={canvas} aria-label={`Bender and tube, ${shown.name}, ${said}`} role="img" />
        )}
        <fieldset className="looks" aria-label="Look">
          {LOOKS.map(l => (
            <button
              key={l.look}
              type="button"
              aria-pressed={look === l.look}
              onClick={() => {
                setLook(l.look)
                stage.current?.look(l.look, points)
              }}
            >
              {l.label}
            </button>
          ))}
        </fieldset>
        {hit && hitAt !== null && Math.abs(fraction - hitAt) < 0.02 && (
          <p className="hitSays" role="alert">
            ✕ {clearanceSentence(hit, unit)}
          </p>
        )}
      </div>
      <div className="scrub">
        <fieldset className="motions" aria-label="Motion">
          {motions.map((m, i) => (
            <button key={m.motion} type="button" aria-pressed={m === shown} onClick={() => play(i)}>
              {judge(m.clearance) === 'contact' ? '✕ ' : ''}
              {m.name}
            </button>
          ))}
        </fieldset>
        <label>
          <span className="hidden-label">how far through {shown.name}</span>
          <input
            type="range"
            min={0}
            max={1000}
            value={Math.round(fraction * 1000)}
            aria-valuetext={said}
            onChange={event => {
              setPlaying(false)
              setFraction(Number(event.currentTarget.value) / 1000)
            }}
          />
        </label>
        <output>{said}</output>
      </div>
    </div>
  )
}

const fractionOf = (m: Shown, at: number): number =>
  m.to === m.from ? 0 : Math.min(1, Math.max(0, (at - m.from) / (m.to - m.from)))
