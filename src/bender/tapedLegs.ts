import { DEG } from '../geometry/vec3.ts'
import type { FinishedTube } from '../solve/finishedTube.ts'
import { backBeyondTangent } from './onPart.ts'

/** One leg of the finished tube, between its ends and bends, as it is taped. Lengths mm. */
export interface TapedLeg {
  /** 'A', or the bend that it begins at, counted from end A from 0. */
  readonly from: 'A' | number
  readonly to: number | 'B'
  /** Along the centre line to the corners, where the centre lines of two legs meet; at an end from the tube's end. */
  readonly toCorners: number
  /** Over the backs of its bends ({@link backBeyondTangent}); at an end from the tube's end. */
  readonly overBacks: number
}

/** The legs of a finished tube of this OD (mm), A to B. */
export function tapedLegs({ pieces }: Pick<FinishedTube, 'pieces'>, od: number): TapedLeg[] {
  const arcs = pieces.filter(p => p.kind === 'arc')
  return pieces
    .filter(p => p.kind === 'line')
    .map(({ from, to }, k): TapedLeg => {
      const ends = [arcs[k - 1], arcs[k]].filter(a => a !== undefined)
      const straight = to - from
      return {
        from: k === 0 ? 'A' : k - 1,
        to: k === arcs.length ? 'B' : k,
        toCorners: ends.reduce((sum, a) => sum + a.radius * Math.tan(a.angleRad / 2), straight),
        overBacks: ends.reduce((sum, a) => sum + backBeyondTangent(a.radius, a.angleRad / DEG, od), straight),
      }
    })
}
