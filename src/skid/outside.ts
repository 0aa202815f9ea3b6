import { cutShapes, lengthOf, type Shape, type Swept, sweep } from '../geometry/swept.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { sleeveOf } from './insulation.ts'

/** What a run is on the outside. Lengths mm. */
export interface Outside {
  readonly shapes: readonly Shape[]
  /** Of the bare tube. */
  readonly radius: number
  /** Thickness around the tube, ≥ 0. */
  readonly insulation: number
  /** How far from either end of the tube the insulation begins. */
  readonly cutBack: readonly [number, number]
}

export const lengthOfShapes = (shapes: readonly Shape[]): number =>
  shapes.reduce((sum, shape) => sum + lengthOf(shape), 0)

/**
 * The outside as rods, in order from end A: the tube alone where it is bare, the sleeve of its insulation where it is not.
 *
 * @param from,to leave only what lies between these ways along the tube; none when nothing does.
 */
export function rodsOf(
  { shapes, radius, insulation, cutBack }: Outside,
  from = 0,
  to = Infinity,
): readonly Swept[] {
  const whole = lengthOfShapes(shapes)
  const rod = (start: number, end: number, r: number): Swept[] => {
    const [a, b] = [Math.max(start, from, 0), Math.min(end, to, whole)]
    // What is no longer than rounding is not there: else turning the skid would bring it and take it away.
    if (b - a <= LENGTH_SLACK_MM && (whole > LENGTH_SLACK_MM || a > b)) return []
    if (a === 0 && b === whole) return [sweep(shapes, r)]
    const { shapes: part, ...of } = cutShapes(shapes, a, b)
    return [sweep(part, r, of)]
  }
  const sleeve = insulation > 0 ? sleeveOf(cutBack, whole) : null
  if (!sleeve) return rod(0, whole, radius)
  // Bare ends go on under the sleeve, so that they have no cut end of their own there.
  const under = 4 * radius
  return [
    ...(sleeve.from > 0 ? rod(0, sleeve.from + under, radius) : []),
    ...rod(sleeve.from, sleeve.to, radius + insulation),
    ...(sleeve.to < whole ? rod(sleeve.to - under, whole, radius) : []),
  ]
}
