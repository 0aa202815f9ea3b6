import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import { askAboutSpringback } from '../../bender/askAboutSpringback.ts'
import { orderFrom, sameOrder } from '../../bender/layOut.ts'
import { springbackRecord } from '../../bender/springback.ts'
import { benderOf, runOf, springbackOf, toolingOf } from '../../document/lookUp.ts'
import type { Run, SkidDocument, Springback } from '../../document/types.ts'
import { checkedOrder } from '../../outputs/sheetBendOrder.ts'
import type { SolvedRun } from '../../solve/types.ts'
import { browserMemory } from '../../store/browserMemory.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { isHoused } from '../../store/housing.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useFindings } from '../useFindings.ts'
import { useDocument, useSession } from '../useStore.ts'
import { fitOf } from './dial.ts'
import { benchLength, unitWord } from './figures.ts'
import {
  followedFigures,
  type Programme,
  type ProgrammeResult,
  programmeOf,
  whatChanged,
} from './programme.ts'
import {
  fitKey,
  freshProgress,
  keepProgress,
  leadOfOrder,
  newPiece,
  type Progress,
  readProgress,
  withOrder,
} from './progress.ts'
import { type Screen, screensOf } from './screens.ts'

export interface Bending {
  readonly document: SkidDocument
  readonly run: Run
  readonly solved: SolvedRun
  readonly result: ProgrammeResult
  readonly progress: Progress
  /** False when the browser refuses to keep the progress. */
  readonly kept: boolean
  /** Nobody has chosen an order, and the check that proposes one is not done with this run. */
  readonly isOrderPending: boolean
  /** What changed since the work was begun; empty when nothing did. */
  readonly changes: readonly string[]
  change(patch: Partial<Progress>): void
}

/** The run at the bench with its figures and how far the work has come; null when the document has no run. */
export function useBending(): Bending | null {
  // The settled document: a half-done drag is nothing to bend by.
  const document = useDocument(state => state.settled)
  const inHand = useSession(state => state.runInHand)
  const run = (inHand !== null && runOf(document, inHand)) || document.runs[0] || null
  const solved = run && solvedRunOf(document, run.id)
  const place = run ? `${document.name}:${run.id}` : ''
  const bends = solved?.route?.bends.length ?? 0

  const [state, setState] = useState<{ place: string; progress: Progress; chosen: boolean; kept: boolean }>(
    () => ({ place: '', progress: freshProgress([]), chosen: false, kept: true }),
  )
  let { progress, chosen, kept } = state
  if (run && (state.place !== place || progress.order.length !== bends)) {
    const found = readProgress(document.name, run.id)
    chosen = found !== null && found.order.length === bends
    const fresh = freshProgress(orderFrom('A', bends))
    // With other bends the piece in work is another one: it is put away, never dropped.
    progress =
      found === null ? fresh : chosen ? found : newPiece({ ...found, lead: 'A' }, { order: fresh.order })
    kept = true
    setState({ place, progress, chosen, kept })
  }
  // Until someone has chosen anything, the order is the one that a sheet printed now would have.
  const { findings } = useFindings()
  const checked = solved && !chosen ? checkedOrder(solved, findings) : progress.order
  if (!sameOrder(checked, progress.order)) {
    progress = { ...progress, ...withOrder(leadOfOrder(checked), checked) }
    setState({ place, progress, chosen, kept })
  }

  /** Of the run as it is laid out now. */
  const screens = useRef<readonly Screen[]>([])
  const change = useCallback(
    (patch: Partial<Progress>) => {
      if (!run) return
      const next: { -readonly [K in keyof Progress]: Progress[K] } = { ...progress, ...patch }
      if (patch.screen != null) next.where = screens.current[patch.screen] ?? null
      setState({ place, progress: next, chosen: true, kept: keepProgress(document.name, run.id, next) })
    },
    [run, place, progress, document.name],
  )

  const { figures, order } = progress
  // By value: the programme, and the clearances worked out for it, must outlive every press of "Done".
  const trialled = JSON.stringify(
    figures !== null ? progress.laidOutWith : run ? fromTrials(document, run, progress) : null,
  )
  const result = useMemo(
    () =>
      run && solved
        ? programmeOf(document, run, solved, order, JSON.parse(trialled) as Springback | null)
        : null,
    [document, run, solved, order, trialled],
  )
  screens.current = result?.ok ? screensAt(result.programme, progress).screens : []
  const unit = useSession(state => state.unit)
  const changes = useMemo(() => {
    if (!figures || !result?.ok) return []
    const length = (mm: number) => `${benchLength(mm, unit)} ${unitWord(unit)}`
    return whatChanged(figures, followedFigures(result.programme), length)
  }, [figures, result, unit])
  useEffect(() => {
    if (run) keepLast(document.name, run.id)
  }, [document.name, run])

  if (!run || !solved || !result) return null
  const isOrderPending = !chosen && !isHoused(document, run)
  return { document, run, solved, result, progress, kept, isOrderPending, changes, change }
}

/**
 * The springback that the trials made at the bench give, or null to go by the bender's record. Without a record
 * the trials are all there is.
 */
export function fromTrials(document: SkidDocument, run: Run, progress: Progress): Springback | null {
  const bender = benderOf(document, run)
  const tooling = bender && toolingOf(bender, run)
  const known = bender !== null && springbackOf(bender, run) !== null
  if (!tooling || (known && progress.dialFrom === 'record')) return null
  const fit = fitOf(progress)
  // The trials panel says why they give no line; the dial then goes by the bender's record.
  if (typeof fit === 'string') return null
  const record = springbackRecord(run.tube.material, fit)
  const wanted = solvedRunOf(document, run.id)?.route?.bends.map(b => b.angle) ?? []
  const doubted = askAboutSpringback(record, wanted, tooling.maxAngle) !== null
  return doubted && progress.agreedFit !== fitKey(progress) ? null : record
}

/** The screens of the run in work and the one that is shown (never past the last). */
export function screensAt(programme: Programme, progress: Progress): { screens: Screen[]; at: number } {
  const screens = screensOf(programme.layout, progress.stopShort)
  return { screens, at: Math.min(progress.screen ?? 0, screens.length - 1) }
}

const LAST = 'dogleg-bending-last'

function keepLast(documentName: string, run: string): void {
  browserMemory.keep(LAST, { documentName, run })
}

/** Takes up the run that was last at the bench, when this document has it and no run is in hand. */
export function takeUpLastRun(document: SkidDocument): void {
  const session = sessionStore.getState()
  if (session.runInHand !== null) return
  const kept = browserMemory.value(LAST) as { documentName?: unknown; run?: unknown } | null
  if (kept?.documentName === document.name && typeof kept.run === 'string' && runOf(document, kept.run))
    session.set({ runInHand: kept.run })
}
