import { formatAngle } from '../document/quantity.ts'
import { type Sentence, say } from '../document/sentence.ts'
import type { Springback } from '../document/types.ts'
import type { Trial } from './springback.ts'
import { mostSpringback, READING_ERROR_DEG, SCATTER_DEG, staysAt } from './springbackLimits.ts'

const typed = (deg: number) => `${formatAngle(deg, 2)}°`
const about = (deg: number) => `${formatAngle(deg, 1, true)}°`

/**
 * Why an angle measured after the dial stood at a known reading is asked about before it is used, or null: it is above
 * the dial, far from what each of `known` expects, or, where nothing is known, gives back more than a tube can.
 *
 * @param known springback on record and by the trials, those that there are; one that agrees is enough.
 */
export function askAboutAngle(trial: Trial, known: readonly Springback[]): Sentence | null {
  const { dial, measured } = trial
  if (measured > dial + READING_ERROR_DEG)
    return say`${typed(measured)} measured is more than the ${about(dial)} that the dial stood at, and tube springs back, never on: are the two swapped?`
  const expected = known.map(s => staysAt(s, dial)).filter(deg => deg > 0 && deg <= dial + READING_ERROR_DEG)
  const [first] = expected
  if (first !== undefined) {
    const near = (deg: number) => Math.abs(measured - deg) <= SCATTER_DEG + Math.abs(dial - deg) / 2
    return expected.some(near)
      ? null
      : say`${typed(measured)} measured where about ${about(first)} was expected, with the dial at ${about(dial)}`
  }
  return dial - measured > mostSpringback(dial)
    ? say`${typed(measured)} measured with the dial at ${about(dial)} is a springback of ${about(dial - measured)}, more than a metal tube gives back`
    : null
}

/** Farther past the wanted angle than this nobody bends who knows no dial reading. Degrees; no source. */
const BLIND_DEG = 10

/** The same for a bend whose dial reading nobody knows: the wanted angle is all there is to hold it against. */
export const askAboutBlindAngle = (wanted: number, measured: number): Sentence | null =>
  measured > wanted + BLIND_DEG || wanted - measured > mostSpringback(wanted)
    ? say`${typed(measured)} measured; ${about(wanted)} is required`
    : null

/** Measured this far past the wanted angle, the dial went farther than it was to go: the reading is asked for. Degrees. */
export const OVERBENT_DEG = 1

/** Why a dial reading is asked about, or null: past the stop, or no angle that a dial shows. */
export function askAboutDial(dial: number, stop: number): Sentence | null {
  if (dial > 360) return say`a dial of ${typed(dial)} is more than one whole turn`
  return dial > stop + READING_ERROR_DEG
    ? say`a dial of ${typed(dial)} is past the stop at ${about(stop)}`
    : null
}
