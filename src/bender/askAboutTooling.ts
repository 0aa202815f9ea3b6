import { mm, type Sentence, say } from '../document/sentence.ts'
import type { Tooling } from '../document/types.ts'

/** Figures of a tooling that can be asked about; lengths mm, the stop degrees. */
export type ToolingFigure =
  | 'clr'
  | 'clampGrip'
  | 'followerLength'
  | 'referenceOffset'
  | 'stretchAt90'
  | 'maxAngle'

/**
 * What bench tooling of one OD stays within, in multiples of the OD; of the stretch, of the CLR. Common practice, no
 * source: wide enough for every machine that one person cranks, narrow enough for a slip of the decimal.
 */
const CLR_OF_OD = [1, 12] as const
const GRIP_OF_OD = [0.5, 8] as const
const FOLLOWER_OF_OD = [0.5, 15] as const
/** The die's reference line is on the die or the clamp: no farther from the tangent point than the die's radius and three tubes. */
const LINE_PAST_CLR_OF_OD = 3
const STRETCH_OF_CLR = 0.3
/** A stop below this makes no square bend worth a bender; above, the arm would meet the tail. Degrees. */
const STOP_DEG = [45, 240] as const

/** Why a figure of a tooling is asked about before it is kept, or null when it is like those of other benders. */
export function askAboutTooling(
  tooling: Pick<Tooling, 'od' | 'clr'>,
  figure: ToolingFigure,
  value: number,
): Sentence | null {
  const { od, clr } = tooling
  const outside = (name: string, [low, high]: readonly [number, number]) =>
    value < low * od || value > high * od
      ? say`${name} of ${mm(value)} for a tube of ${mm(od)} OD: ${mm(low * od)} to ${mm(high * od)} would be usual`
      : null
  switch (figure) {
    case 'clr':
      return outside('a CLR', CLR_OF_OD)
    case 'clampGrip':
      return outside('a clamp grip', GRIP_OF_OD)
    case 'followerLength':
      return outside('a follower', FOLLOWER_OF_OD)
    case 'referenceOffset': {
      const most = clr + LINE_PAST_CLR_OF_OD * od
      return Math.abs(value) > most
        ? say`a reference line ${mm(Math.abs(value))} from the start of bend on a die of CLR ${mm(clr)}: up to ${mm(most)} would be usual`
        : null
    }
    case 'stretchAt90':
      return Math.abs(value) > STRETCH_OF_CLR * clr
        ? say`a stretch of ${mm(value)} in a 90° bend of CLR ${mm(clr)}: up to ${mm(STRETCH_OF_CLR * clr)} would be usual`
        : null
    case 'maxAngle':
      return value < STOP_DEG[0] || value > STOP_DEG[1]
        ? say`a stop at ${String(value)}°: ${String(STOP_DEG[0])}° to ${String(STOP_DEG[1])}° would be usual`
        : null
  }
}

/** Why the gap between follower and clamp is asked about, or null; mm. Usual: up to five tubes, no source. */
export const askAboutFollowerGap = (od: number, gap: number): Sentence | null =>
  gap > 5 * od ? say`a gap of ${mm(gap)} between follower and clamp for a tube of ${mm(od)} OD` : null
