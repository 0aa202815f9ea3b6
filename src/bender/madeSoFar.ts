import type { OrderedBend } from '../solve/bendOrder.ts'
import { wrapTurn } from './layOut.ts'

/** One bend as it was, or is to be, laid out; lengths mm, angles degrees. */
export interface LaidOutBend extends OrderedBend {
  /** Start of bend on the stock, from the end that leads. */
  readonly start: number
  readonly turn: number | null
  readonly angle: number
}

export interface LaidOut {
  readonly cutLength: number
  /** In order of work. */
  readonly steps: readonly LaidOutBend[]
}

/** How a made bend stands against the figures of now: wanted less made, mm and degrees. */
export interface MadeBend {
  readonly bend: number
  readonly lead: OrderedBend['lead']
  /** Farther from the end that led, positive. */
  readonly place: number
  /** Of the turn from the bend made before; 0 for the first. */
  readonly turn: number
  /** More bend wanted, positive. */
  readonly angle: number
}

/**
 * 'yes': what is made stands as it should, the rest goes by the new figures. 'bendOn': so it does once some bends are
 * bent on. 'no': a bend, or the stock, cannot be brought to the new figures.
 */
export type GoOn = 'yes' | 'bendOn' | 'no'

export interface MadeSoFar {
  readonly goOn: GoOn
  /** Made bends that stand otherwise than they should. */
  readonly off: readonly MadeBend[]
  /** What to cut off the end that led first, mm, so that bends too far from it lie as they should; null: nothing. */
  readonly cutFirst: { readonly end: OrderedBend['lead']; readonly length: number } | null
  /** Stock that there is more than wanted after that, mm; negative: so much is missing. 0 while nothing is cut. */
  readonly spare: number
  /** The made bends are not the first ones of the new order: they cannot be held against it one by one. */
  readonly otherOrder: boolean
}

/** Below this a tape and a protractor show no difference, mm and degrees (common practice, no source). */
export const SHOWS_MM = 0.5
export const SHOWS_DEG = 0.5
/** Below this figures are the same: rounding. */
const SAME = 1e-6

/**
 * Whether a piece on which the first `made` bends of `before` are made can go on by the figures of `now`, and which of
 * these bends stand otherwise than they should. Spare stock is cut off at the end that no made bend was measured from.
 *
 * @param isCut false while the stock has not been cut yet.
 */
export function madeSoFar(before: LaidOut, now: LaidOut, made: number, isCut: boolean): MadeSoFar {
  const done = before.steps.slice(0, made)
  const otherOrder =
    (made > 0 && before.steps.length !== now.steps.length) ||
    done.some((was, i) => was.bend !== now.steps[i]?.bend || was.lead !== now.steps[i]?.lead)
  const stock = isCut ? before.cutLength - now.cutLength : 0
  if (otherOrder) return { goOn: 'no', off: [], cutFirst: null, spare: stock, otherOrder }
  const all = done.map((was, i): MadeBend => {
    const is = now.steps[i]!
    return {
      bend: is.bend,
      lead: is.lead,
      place: is.start - was.start,
      turn: i === 0 ? 0 : wrapTurn((is.turn ?? 0) - (was.turn ?? 0)),
      angle: is.angle - was.angle,
    }
  })
  const isBothEnds = new Set(done.map(d => d.lead)).size > 1
  const shift = all[0]?.place ?? 0
  // All too far from the end that led by the same: a shorter end puts them right.
  const isShifted =
    !isBothEnds && shift < 0 - SHOWS_MM && all.every(b => Math.abs(b.place - shift) < SHOWS_MM)
  const spare = stock + (isShifted ? shift : 0)
  const off = all.filter(b => Math.abs(b.place) > SAME || Math.abs(b.turn) > SAME || Math.abs(b.angle) > SAME)
  const isStockRight = isBothEnds ? Math.abs(spare) < SHOWS_MM : spare > 0 - SHOWS_MM
  const isPlaced = off.every(
    b =>
      (isShifted || Math.abs(b.place) < SHOWS_MM) && Math.abs(b.turn) < SHOWS_DEG && b.angle > 0 - SHOWS_DEG,
  )
  const isBent = off.every(b => Math.abs(b.angle) < SHOWS_DEG)
  return {
    goOn: !isStockRight || !isPlaced ? 'no' : isBent ? 'yes' : 'bendOn',
    off,
    cutFirst: isShifted ? { end: all[0]!.lead, length: 0 - shift } : null,
    spare: Math.abs(spare) < SAME ? 0 : spare,
    otherOrder,
  }
}
