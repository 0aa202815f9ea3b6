import { type CSSProperties, useEffect, useReducer, useState } from 'react'
import type { Run, SkidDocument } from '../../document/types.ts'
import type { SolvedRun } from '../../solve/types.ts'
import { clearanceStore } from '../../store/clearance.ts'
import { documentStore } from '../../store/documentStore.ts'
import { type LiveClearance, liveClearance } from '../../store/liveClearance.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { liveWords } from '../scene/liveWords.ts'
import { useDocument, useSession } from '../useStore.ts'
import { SeverityMark } from './SeverityMark.tsx'
import './straightNearest.css'

const MARK = { waiting: 'notChecked', clear: 'ok', fine: 'ok', tooClose: 'warning', clash: 'error' } as const

/** Words that a key brought up stand at least this long: the check mostly answers before they are read. ms */
const READ_MS = 2500

/** A change by keys: what was said of it, and the document that it made. */
export interface Nudged {
  readonly said: string
  readonly document: SkidDocument
}

interface Props {
  readonly run: Run
  readonly solved: SolvedRun
  /** What is changed, and the drawing's width, px. */
  readonly at: number
  readonly width: number
  readonly top: number
  /** Null while a straight is dragged. */
  readonly nudged: Nudged | null
  /** The check has answered, and there was time to read. */
  readonly onDone: () => void
}

/** How near the run in hand comes while a figure of the unrolled tube is changed, by what is changed. */
export default function StraightNearest({ run, solved, at, width, top, nudged, onDone }: Props) {
  const unit = useSession(state => state.unit)
  const [live, setLive] = useState<LiveClearance | null>(null)
  const [, again] = useReducer((n: number) => n + 1, 0)
  // One measurer does while only this run changes.
  const settled = useDocument(state => state.settled)
  const holds = live?.holdsFor(settled, run.id) ?? false
  useEffect(() => {
    if (!holds) setLive(liveClearance(settled, run.id, again))
  }, [holds, settled, run.id])
  useEffect(() => () => live?.stop(), [live])
  useEffect(() => (nudged ? whenChecked(onDone) : undefined), [nudged, onDone])

  const words = solved.route ? liveWords(live?.of(run, solved) ?? { state: 'waiting' }, unit) : null
  const text = words?.text ?? ''
  const isKnown = words !== null && words.state !== 'waiting'
  // After an undo the change that was said is no more.
  const isStill = nudged?.document === settled
  useEffect(() => {
    if (nudged && isStill && isKnown) sessionStore.getState().say(`${nudged.said}; nearest: ${text}`)
  }, [nudged, isStill, isKnown, text])
  if (!words) return null
  return (
    <span
      className={`straightNearest ${words.state}`}
      data-testid="straight-nearest"
      style={{ top, maxWidth: width - 8, ...under(at, width) }}
    >
      <SeverityMark of={MARK[words.state]} size={14} />
      <i>Nearest</i> <output aria-live="off">{text}</output>
    </span>
  )
}

/** Under what is changed, and within the drawing: near a side they are held to it. */
function under(at: number, width: number): CSSProperties {
  if (at < width / 3) return { left: Math.max(4, at - 40) }
  if (at > (2 * width) / 3) return { right: Math.max(4, width - at - 40) }
  return { left: at, transform: 'translateX(-50%)' }
}

/** Calls back once the check has answered for the document as it is now and the words could be read; gives what stops it. */
function whenChecked(done: () => void): () => void {
  const until = performance.now() + READ_MS
  const look = () => {
    const { answered, outdated } = clearanceStore.getState()
    if (performance.now() >= until && answered === documentStore.getState().document && !outdated) done()
  }
  const timer = window.setTimeout(look, READ_MS)
  const stop = clearanceStore.subscribe(look)
  return () => {
    window.clearTimeout(timer)
    stop()
  }
}
