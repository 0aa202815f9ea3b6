import { orderFrom, sameSequence } from '../../bender/layOut.ts'
import type { Trial } from '../../bender/springback.ts'
import type { Springback } from '../../document/types.ts'
import type { Lead, OrderedBend } from '../../solve/bendOrder.ts'
import { browserMemory } from '../../store/browserMemory.ts'
import type { FollowedFigures } from './programme.ts'
import type { Screen, StopShort } from './screens.ts'

/** How the order of the bends was chosen; 'own' is the user's. */
export type LeadChoice = Lead | 'best' | 'own'

/**
 * A bend as it was measured, and whether its springback counts. The dial is null where nobody knows how far it went;
 * then it is no trial.
 */
export interface Made {
  readonly dial: number | null
  readonly measured: number
  /** Left out of what the trials say, and can be put back. */
  readonly out?: boolean
}

/** The same with its dial known. */
export interface MadeTrial extends Made {
  readonly dial: number
}

/** How far a run has come at the bench. Kept in the browser, never in the document. */
export interface Progress {
  readonly version: 1
  readonly lead: LeadChoice
  readonly order: readonly OrderedBend[]
  readonly stopShort: StopShort
  /** All marks on the straight stock first, or each measured on the part. */
  readonly marks: 'stock' | 'part'
  /** Which screen; null while the start page is shown. */
  readonly screen: number | null
  /** What was to be done on the last screen shown: its number alone says nothing once the run has changed. */
  readonly where: Screen | null
  /** The screen that was left for the start page, to go on from; null when there is none. */
  readonly leftAt: number | null
  /** Each step as finished, in order of work: where the dial stood and the angle that stayed. */
  readonly measured: readonly (Made | null)[]
  /** First short stop of each step: dial and what was measured there. */
  readonly short: readonly (MadeTrial | null)[]
  /** Trial bends made on other pieces. */
  readonly extra: readonly MadeTrial[]
  /** The trials (see {@link fitKey}) whose line someone wants to use though no tube is like it; null: nobody. */
  readonly agreedFit: string | null
  /** Dial readings come from the bender's record or from the trials made here. */
  readonly dialFrom: 'record' | 'trials'
  /** What the figures were when the work was begun; null before. */
  readonly figures: FollowedFigures | null
  /**
   * The springback of trials that the piece in work was laid out with; null when it was the bender's record (or
   * nothing). Trials made on the piece itself move its dial readings, never marks that are already on the stock.
   */
  readonly laidOutWith: Springback | null
  /** Who went on although the run was not released, and what was open then; null: it was, or nobody has begun. */
  readonly goneOn: { readonly by: string; readonly open: string } | null
  /** The piece that was in work before this one, as it was left: it can be brought back. */
  readonly putAway: Piece | null
}

/** A piece with everything that is known of it. */
export type Piece = Omit<Progress, 'putAway'>

export const freshProgress = (order: readonly OrderedBend[], lead: LeadChoice = 'A'): Progress => ({
  version: 1,
  lead,
  order,
  stopShort: 'first',
  marks: 'stock',
  screen: null,
  where: null,
  leftAt: null,
  measured: order.map(() => null),
  short: order.map(() => null),
  extra: [],
  agreedFit: null,
  dialFrom: 'record',
  figures: null,
  laidOutWith: null,
  goneOn: null,
  putAway: null,
})

/** Whether anything was begun that a new piece would lose sight of. */
export const isBegun = (p: Progress): boolean =>
  p.figures !== null || p.screen !== null || [...p.measured, ...p.short].some(made => made !== null)

/** How many bends of the order are begun: from there on the tube is no longer straight. */
export function bendsBegun({ where, measured, short }: Progress): number {
  if (where?.kind === 'finished') return measured.length
  const here = where !== null && 'step' in where ? where.step : 0
  const bent = where?.kind === 'readShort' || where?.kind === 'measure' ? here + 1 : here
  return measured.reduce((most, made, i) => (made || short[i] ? Math.max(most, i + 1) : most), bent)
}

/** A new piece, with `patch`: the one in work is put away as it is, and what was measured on it stays as trials. */
export function newPiece(progress: Progress, patch: Partial<Progress>): Progress {
  const order = patch.order ?? progress.order
  const { putAway, ...piece } = progress
  return {
    ...progress,
    screen: null,
    where: null,
    leftAt: null,
    figures: null,
    laidOutWith: null,
    goneOn: null,
    ...patch,
    measured: order.map(() => null),
    short: order.map(() => null),
    extra: allTrials(progress).map(({ dial, measured, out }) => ({ dial, measured, out })),
    putAway: isBegun(progress) ? piece : putAway,
  }
}

/** The piece that was put away, in work again; the one of now is put away instead. No trial is lost or doubled. */
export function broughtBack(progress: Progress): Progress {
  const { putAway, ...piece } = progress
  if (putAway === null) return progress
  const kept = allTrials({ ...putAway, putAway: null })
  // Its own trials went on as the first of the extra ones, and may have been left out or put back there since.
  let back: Progress = { ...putAway, putAway: isBegun(progress) ? piece : null }
  kept.forEach((trial, i) => {
    back = { ...back, ...leftOut(back, trial, progress.extra[i]?.out ?? trial.out) }
  })
  const later = [
    ...progress.extra.slice(kept.length),
    ...allTrials({ ...progress, extra: [] }).map(({ dial, measured, out }) => ({ dial, measured, out })),
  ]
  return { ...back, extra: [...back.extra, ...later] }
}

/** The order taken, and nothing made in it yet. */
export const withOrder = (lead: LeadChoice, order: readonly OrderedBend[]) => ({
  lead,
  order,
  figures: null,
  leftAt: null,
  measured: order.map(() => null),
  short: order.map(() => null),
})

/** How an order that came from the checks or a sheet was chosen. */
export const leadOfOrder = (order: readonly OrderedBend[]): LeadChoice => {
  const lead = order[0]?.lead ?? 'A'
  return sameSequence(order, orderFrom(lead, order.length)) ? lead : 'own'
}

const KEY = 'dogleg-bending'
const keyOf = (documentName: string, runId: string) => `${KEY}:${documentName}:${runId}`

/** What progress that was kept before these fields were there says of them. */
const LATER_FIELDS = { agreedFit: null, where: null, goneOn: null, putAway: null }

/** What was kept for this run, or null when nothing (or nothing readable) was. Never throws. */
export function readProgress(documentName: string, runId: string): Progress | null {
  const kept = browserMemory.value(keyOf(documentName, runId))
  return isProgress(kept) ? { ...LATER_FIELDS, ...kept } : null
}

/** Keeps the progress. Gives false when the browser refuses storage: then it lasts as long as the page. */
export const keepProgress = (documentName: string, runId: string, progress: Progress): boolean =>
  browserMemory.keep(keyOf(documentName, runId), progress) === null

export function isProgress(kept: unknown): kept is Progress {
  if (typeof kept !== 'object' || kept === null) return false
  const p = kept as Partial<Record<keyof Progress, unknown>>
  const isMade = (v: unknown) =>
    typeof v === 'object' &&
    v !== null &&
    ((v as Made).dial === null || Number.isFinite((v as Made).dial)) &&
    Number.isFinite((v as Made).measured) &&
    ['undefined', 'boolean'].includes(typeof (v as Made).out)
  const isTrial = (v: unknown) => isMade(v) && (v as Made).dial !== null
  const order = p.order
  if (!Array.isArray(order)) return false
  const listOf = (name: keyof Progress, good: (v: unknown) => boolean, length = order.length) => {
    const list = p[name]
    return Array.isArray(list) && (length < 0 || list.length === length) && list.every(good)
  }
  return (
    p.version === 1 &&
    ['A', 'B', 'best', 'own'].includes(p.lead as string) &&
    order.every(o => Number.isInteger(o?.bend) && (o?.lead === 'A' || o?.lead === 'B')) &&
    ['first', 'every', 'never'].includes(p.stopShort as string) &&
    ['stock', 'part'].includes(p.marks as string) &&
    ['record', 'trials'].includes(p.dialFrom as string) &&
    (p.screen === null || (Number.isInteger(p.screen) && (p.screen as number) >= 0)) &&
    (p.leftAt === null || (Number.isInteger(p.leftAt) && (p.leftAt as number) >= 0)) &&
    listOf('measured', v => v === null || isMade(v)) &&
    listOf('short', v => v === null || isTrial(v)) &&
    listOf('extra', isTrial, -1) &&
    (p.agreedFit == null || typeof p.agreedFit === 'string') &&
    (p.figures === null || isFigures(p.figures)) &&
    (p.laidOutWith === null || isSpringback(p.laidOutWith)) &&
    (p.where == null || typeof (p.where as { kind?: unknown }).kind === 'string') &&
    (p.goneOn == null || typeof (p.goneOn as { by?: unknown }).by === 'string') &&
    (p.putAway == null || isProgress(p.putAway))
  )
}

const isSpringback = (kept: unknown): kept is Springback =>
  typeof kept === 'object' &&
  typeof (kept as Springback).material === 'string' &&
  Number.isFinite((kept as Springback).offset) &&
  Number.isFinite((kept as Springback).perDegree)

function isFigures(kept: unknown): kept is FollowedFigures {
  const f = kept as FollowedFigures | undefined
  return (
    typeof f === 'object' &&
    Number.isFinite(f.cutLength) &&
    typeof f.bender === 'string' &&
    Array.isArray(f.steps) &&
    f.steps.every(
      s =>
        Number.isInteger(s?.bend) &&
        Number.isFinite(s.mark) &&
        (s.turn === null || Number.isFinite(s.turn)) &&
        Number.isFinite(s.angle),
    )
  )
}

/** A trial with where it is kept, so that it can be left out and put back. */
export interface KeptTrial extends Trial {
  readonly list: 'extra' | 'short' | 'measured'
  readonly at: number
  readonly out: boolean
}

/** Every dial–measured pair that this run knows of: pieces bent elsewhere or before, short stops and finished bends. */
export const allTrials = (progress: Progress): KeptTrial[] =>
  (['extra', 'short', 'measured'] as const).flatMap(list =>
    progress[list].flatMap((made, at): KeptTrial[] =>
      made?.dial == null
        ? []
        : [{ dial: made.dial, measured: made.measured, list, at, out: made.out ?? false }],
    ),
  )

/** Those of them that count. */
export const trialsOf = (progress: Progress): Trial[] =>
  allTrials(progress)
    .filter(t => !t.out)
    .map(({ dial, measured }) => ({ dial, measured }))

/** The trials that count, as one text: what was agreed to of one set is not agreed to of another. */
export const fitKey = (progress: Progress): string => JSON.stringify(trialsOf(progress))

/** The patch that leaves a trial out or puts it back. */
export const leftOut = (progress: Progress, { list, at }: KeptTrial, out: boolean): Partial<Progress> => ({
  [list]: progress[list].map((made, i) => (i === at && made ? { ...made, out } : made)),
})

/** The entry `at` replaced. */
export const withAt = <T>(list: readonly T[], at: number, value: T): T[] =>
  list.map((v, i) => (i === at ? value : v))
