import type { Support } from '../../document/types.ts'
import { addScaled, anySquareTo, cross, dot, unit, type Vec3 } from '../../geometry/vec3.ts'
import { nearestAlong } from '../../solve/nearestAlong.ts'
import type { SolvedRoute } from '../../solve/types.ts'

/** How a support stands in the picture: unit directions, right-handed (across × up = along). */
export interface SupportStand {
  readonly at: Vec3
  readonly along: Vec3
  readonly up: Vec3
  readonly across: Vec3
  /** Half its length along the tube, and how far it reaches from the tube's centre; mm. */
  readonly half: number
  readonly reach: number
}

/** Under the tube that it holds, upright as far as the tube lets it; with no tube, level along x. */
export function supportStand(support: Support, od: number, route: SolvedRoute | null): SupportStand {
  const along: Vec3 = route ? nearestAlong(route, support.at).direction : [1, 0, 0]
  const level = unit(addScaled([0, 0, 1], along, -dot([0, 0, 1], along)))
  // On an upright tube "up" is any way square to it.
  const up = level && Math.abs(along[2]) < 0.999 ? level : anySquareTo(along)
  return { at: support.at, along, up, across: cross(up, along), half: 0.6 * od, reach: 1.1 * od }
}
