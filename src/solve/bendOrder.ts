/** The end of the run that goes through the clamp first, and so lies ahead of the die. */
export type Lead = 'A' | 'B'

/** Which way a half turn of the tube goes, seen from the tail towards the bender. */
export type HalfTurnWay = 'clockwise' | 'counter-clockwise'

/** One bend of an order of work: `bend` counts from end A, 0-based, whichever end leads. */
export interface OrderedBend {
  readonly bend: number
  readonly lead: Lead
  /** The way of the half turn before this bend; left out: clockwise. It says nothing of any other turn. */
  readonly way?: HalfTurnWay
}
