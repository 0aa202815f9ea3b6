import type { Springback } from '../document/types.ts'

/**
 * A hand dial and a protractor are each read to about half a degree (common practice, no source), so a measured angle may
 * read this much above the dial though tube only ever springs back. Degrees.
 */
export const READING_ERROR_DEG = 1

/** Play of arm and dial that a reading under load may hold besides the spring of the tube, degrees. No source: a guess on the wide side. */
const MOST_PLAY_DEG = 5

/**
 * Largest share of the commanded angle that a metal tube gives back. A thin tube yielded all through carries the moment
 * 4·σ·r²·t, and its I is π·r³·t: it straightens by (4/π)·(σ/E)·(CLR/r) of its curvature (own derivation, perfectly plastic).
 * With σ/E = 0.0075, harder than any tube bent by hand, on a die of CLR 10 × OD that is 0.19.
 */
const MOST_SHARE = 0.2

/** Springback at a dial reading beyond which a figure is sooner a slip than a tube, degrees. */
export const mostSpringback = (dial: number): number => MOST_PLAY_DEG + MOST_SHARE * dial

/**
 * Tubes of one size and material differ in springback from heat to heat: by so many degrees and half of what is on
 * record a figure is taken without a question (common practice, no source).
 */
export const SCATTER_DEG = 3

/** The angle that stays at a dial reading by a record, degrees. */
export const staysAt = ({ offset, perDegree }: Springback, dial: number): number =>
  (dial - offset) / (1 + perDegree)
