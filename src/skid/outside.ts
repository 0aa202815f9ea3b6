import { cutShapes, lengthOf, type Shape, type Swept, sweep } from '../geometry/swept.ts'

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
    if (a > b || (a === b && whole > 0)) return []
    if (a === 0 && b === whole) return [sweep(shapes, r)]
    const { shapes: part, ...of } = cutShapes(shapes, a, b)
    return [sweep(part, r, of)]
  }
  const sleeve = [cutBack[0], whole - cutBack[1]] as const
  if (!(insulation > 0 && sleeve[1] > sleeve[0])) return rod(0, whole, radius)
  // Bare ends go on under the sleeve, so that they have no cut end of their own there.
  const under = 4 * radius
  return [
    ...(sleeve[0] > 0 ? rod(0, sleeve[0] + under, radius) : []),
    ...rod(sleeve[0], sleeve[1], radius + insulation),
    ...(sleeve[1] < whole ? rod(sleeve[1] - under, whole, radius) : []),
  ]
}
