import type { Run } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'

/** One way to bring a gap to what is asked for, harming nothing else. Lengths mm. */
export interface Mend {
  readonly runId: string
  readonly tag: string
  /** Route points that move, as indices (0 is end A). */
  readonly first: number
  readonly last: number
  /** "point 3", "points 3 and 4". */
  readonly what: string
  /** "along +y". */
  readonly way: string
  /** How far they move, a round figure > 0. */
  readonly by: number
  /** Unit direction. */
  readonly direction: Vec3
  /** The run as it will be. */
  readonly run: Run
  /** The gap as it will be, measured after rounding; its nearest points, on the moved run first. */
  readonly clearance: number
  readonly pointA: Vec3
  readonly pointB: Vec3
  readonly required: number
  readonly cutLengthBefore: number
  readonly cutLengthAfter: number
  /** Bends whose angle or turn changes, and bends that come or go. */
  readonly bendsChanged: number
  /** Free ends that move. */
  readonly endsMoved: number
}

export interface Mends {
  /** Best first. At most three. */
  readonly ways: readonly Mend[]
  /** Why there is none; '' when there is one. */
  readonly reason: string
  /** False when the search was ended by its budget before every move was tried. */
  readonly complete: boolean
}

/** A move that failed: how far it got, and what it would break; '' when it does not even reach. */
export interface Miss {
  readonly tag: string
  readonly what: string
  readonly way: string
  readonly by: number
  readonly gap: number
  readonly required: number
  readonly breaks: string
}
