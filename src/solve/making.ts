import { benderOf, springbackOf, toolingOf } from '../document/lookUp.ts'
import type { Run, SkidDocument, Springback, Tooling } from '../document/types.ts'

/** Centre-line radius of every bend, mm > 0; or that of a bend by the angle at which it has settled, degrees. */
export type BendRadius = number | ((angle: number) => number)

/** mm. */
export const radiusAt = (clr: BendRadius, angle: number): number =>
  typeof clr === 'number' ? clr : clr(angle)

/** What comes out of a bend: its radius decides where the straights end, its stretch how much stock it takes. */
export interface Making {
  readonly clr: BendRadius
  /** How much longer the tube gets in a bend of this angle, mm. */
  readonly stretch: (angle: number) => number
}

/** Bends of the radius as drawn, without stretch: what there is to reckon with when no bender is chosen. */
export const asDrawn = (clr: number): Making => ({ clr, stretch: () => 0 })

/** Commanded less settled angle for a wanted angle, degrees; 0 when `springback` is null. */
export const springbackAt = (springback: Springback | null, wanted: number): number =>
  springback === null ? 0 : springback.offset + springback.perDegree * wanted

/**
 * What bends become on a die, whatever CLR they were drawn with. A CLR measured on the die opens by
 * commanded / settled angle, since the arc stays the stock drawn in; one measured on a settled bend has that in it
 * already. Stretch is in proportion to the angle.
 *
 * @param springback null when it is not known: the die's own radius is then all there is to go on.
 * @see shared trade notes, section 3.
 */
export const madeWith = (tooling: Tooling, springback: Springback | null): Making => ({
  clr:
    tooling.clrMeasured === 'settled' || springback === null
      ? tooling.clr
      : angle => (tooling.clr * (angle + springbackAt(springback, angle))) / angle,
  stretch: angle => ((tooling.stretchAt90 ?? 0) * angle) / 90,
})

/**
 * What the run's own bender makes of its bends; as drawn without bender or without tooling for it.
 *
 * @param springback taken instead of the bender's record, when trials of this tube say better.
 */
export function makingOf(document: SkidDocument, run: Run, springback: Springback | null = null): Making {
  const bender = benderOf(document, run)
  const tooling = bender && toolingOf(bender, run)
  return bender && tooling ? madeWith(tooling, springback ?? springbackOf(bender, run)) : asDrawn(run.clr)
}
