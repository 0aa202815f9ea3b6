import type { Fitting, Run } from '../document/types.ts'
import { addScaled, cross, dot, length, negate, unit, type Vec3 } from '../geometry/vec3.ts'
import type { SolvedRoute } from '../solve/types.ts'

/**
 * A port stands on a body when its face's middle is this near to the body's surface, inside or out, and a tube is on its port's
 * axis while it is this near to it: mm, a fortieth of the OD, 0.3 mm for a tube of 12 mm. Less is the rounding of figures, of a
 * curved face made of triangles, or of a hand (our own figure, no source).
 */
export const standsWithin = (od: number): number => od / 40

/** The stretch of tube at a port that is not measured against the body that the port stands on. Lengths mm. */
export interface Stub {
  readonly end: 'A' | 'B'
  readonly fitting: string
  /** Middle of the port's face. */
  readonly face: Vec3
  /** From the face along the tube: the straight for the nut, as far as the tube keeps to the port's axis. */
  readonly length: number
  /** See `standsWithin`. */
  readonly within: number
}

/**
 * The stubs of a run, one for each end in a port. A stub ends with its straight, or where the tube has left the port's axis.
 */
export function stubsOf(
  run: Run,
  route: SolvedRoute,
  fittings: ReadonlyMap<string, Pick<Fitting, 'position' | 'axis' | 'straightNeeded'>>,
): readonly Stub[] {
  const within = standsWithin(run.tube.od)
  const first = route.pieces[0]
  const last = route.pieces[route.pieces.length - 1]
  const stub = (end: 'A' | 'B', leaving: Vec3 | undefined, straight: number | undefined): Stub[] => {
    const at = end === 'A' ? run.endA : run.endB
    const fitting = at.kind === 'port' ? fittings.get(at.fitting) : undefined
    if (at.kind !== 'port' || !fitting) return []
    const axis = unit(fitting.axis)
    const off = axis && leaving && dot(axis, leaving) > 0 ? length(cross(axis, leaving)) : null
    const onAxis = off === null ? 0 : within / Math.max(off, 1e-12)
    const needed = Math.max(fitting.straightNeeded, within)
    const long = Math.max(Math.min(needed, straight ?? 0, onAxis), 0)
    return [{ end, fitting: at.fitting, face: fitting.position, length: long, within }]
  }
  return [
    ...stub('A', first?.direction, route.straights[0]),
    ...stub(
      'B',
      last?.kind === 'line' ? negate(last.direction) : undefined,
      route.straights[route.straights.length - 1],
    ),
  ]
}

/** The place `s` mm along a port's axis. */
export const alongAxis = ({ position, axis }: Pick<Fitting, 'position' | 'axis'>, s: number): Vec3 =>
  addScaled(position, unit(axis) ?? [0, 0, 0], s)
