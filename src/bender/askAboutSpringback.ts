import { isAbove } from '../document/angleRange.ts'
import { formatAngle } from '../document/quantity.ts'
import { type Sentence, say } from '../document/sentence.ts'
import type { Springback } from '../document/types.ts'
import { springbackAt } from '../solve/making.ts'
import { mostSpringback, READING_ERROR_DEG } from './springbackLimits.ts'

const deg = (value: number) => `${formatAngle(value, 1, true).replace('-', '−')}°`

/** Why a springback is asked about, and the figure that is wrong with its limit, degrees; null where it has none. */
export interface SpringbackDoubt {
  readonly sentence: Sentence
  readonly measured: number | null
  readonly limit: number | null
}

/**
 * Why a springback record, or one that trials give, is asked about before a dial goes by it; null when each wanted angle
 * gets a dial that a tube and this bender allow. Looked at in the order of `wanted`, degrees.
 *
 * @param stop largest angle the bender's stop allows; null where it is not known.
 */
export function askAboutSpringback(
  springback: Springback,
  wanted: readonly number[],
  stop: number | null,
): SpringbackDoubt | null {
  for (const angle of wanted) {
    const back = springbackAt(springback, angle)
    const dial = angle + back
    const at = `for ${deg(angle)}`
    const doubt = (sentence: Sentence, measured: number | null = null, limit: number | null = null) => ({
      sentence,
      measured,
      limit,
    })
    if (!Number.isFinite(dial)) return doubt(say`${at} it gives no dial reading at all`)
    if (back < 0 - READING_ERROR_DEG)
      return doubt(
        say`${at} it gives a dial of ${deg(dial)}, less than the angle that is to stay: tube springs back, never on`,
        back,
        0,
      )
    if (stop !== null && dial > stop + READING_ERROR_DEG && !isAbove(angle, stop))
      return doubt(say`${at} it gives a dial of ${deg(dial)}, past the stop at ${deg(stop)}`, dial, stop)
    if (back > mostSpringback(dial))
      return doubt(
        say`${at} it gives a dial of ${deg(dial)}: a springback of ${deg(back)} is more than a metal tube gives back`,
        back,
        mostSpringback(angle),
      )
  }
  return null
}
