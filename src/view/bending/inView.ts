import { type TubeMotion, tubeAtDie } from '../../bender/tubeAtDie.ts'
import { addScaled, distance, turnDirection, type Vec3 } from '../../geometry/vec3.ts'
import type { Piece } from '../../solve/types.ts'
import type { Programme } from './programme.ts'

/** So much of the straight that the held tube and the last leg go on with is shown, in centre-line radii. */
const STRAIGHT_RADII = 6

/**
 * The points that the picture of a motion has to hold, bench frame, mm: the die with its clamp, and the tube from one
 * bent leg to the other, ahead of the die and behind it, at the start, in the middle and at the end of the motion. Of
 * a straight that runs on to an end, only the next stretch.
 *
 * @param lift how high the tube is lifted out or in, mm.
 */
export function inView(
  { layout, stock, tooling }: Programme,
  step: number,
  motion: TubeMotion,
  lift = 0,
): Vec3[] {
  const { clr, od } = tooling
  const left = layout.hand === 'left' ? 1 : -1
  const reach = STRAIGHT_RADII * clr
  const points: Vec3[] = []
  for (const x of [-1.6 * clr, 2.4 * clr])
    for (const y of [left * 2.2 * clr, 0 - left * 1.2 * clr])
      for (const z of [-2 * od, 2 * od]) points.push([x, y, z])
  for (const fraction of [0, 0.5, 1])
    points.push(...bentPart(tubeAtDie(layout, stock, step, motion, fraction, lift).pieces, reach))
  return points
}

/** The tube's arcs and the straights between them, and the stretch after the last arc at either side. */
function bentPart(pieces: readonly Piece[], reach: number): Vec3[] {
  const arcs = pieces.flatMap((p, i) => (p.kind === 'arc' ? [i] : []))
  // Nothing bent yet: what lies about the die.
  if (arcs.length === 0)
    return [
      [-reach, 0, 0],
      [reach, 0, 0],
    ]
  const [first, last] = [arcs[0]!, arcs.at(-1)!]
  const points = pieces.slice(first, last + 1).flatMap(p => {
    if (p.kind === 'line') return [p.start, p.end]
    const from = addScaled(p.start, p.centre, -1)
    const middle = addScaled(p.centre, turnDirection(from, p.normal, p.angleRad / 2), 1)
    return [p.start, middle, p.end]
  })
  const before = pieces[first - 1]
  const after = pieces[last + 1]
  if (before) points.push(along(before.end, before.start, reach))
  if (after) points.push(along(after.start, after.end, reach))
  // The die holds the tube, wherever its bends are.
  return [...points, [0, 0, 0]]
}

function along(from: Vec3, to: Vec3, reach: number): Vec3 {
  const whole = distance(from, to)
  return whole <= reach ? to : addScaled(from, addScaled(to, from, -1), reach / whole)
}
