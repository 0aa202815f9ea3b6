import type { Sentence } from '../document/sentence.ts'
import type { Vec3 } from '../geometry/vec3.ts'

/** One bend of a solved run. Lengths mm, angles degrees. */
export interface SolvedBend {
  /** Route index of its vertex: 1 is the first point after end A. */
  readonly vertex: number
  /** Id of its vertex in the document. */
  readonly vertexId: string
  /** 0 < angle < 180. */
  readonly angle: number
  /** From the bend before to this one, (−180, 180], clockwise positive looking from A to B; null on the first. */
  readonly rotation: number | null
  /** Radius that comes out: settled, of the die that makes it; as drawn without a bender. */
  readonly clr: number
  readonly tangentLength: number
  readonly arcLength: number
  /** 2·tangentLength − arcLength, > 0. */
  readonly gain: number
}

/** A piece of the centre line. `start` and `end` are exact points; `from`/`to` distances from end A's face. */
export interface LinePiece {
  readonly kind: 'line'
  /** Straight number: 0 is at end A. */
  readonly straight: number
  readonly from: number
  readonly to: number
  readonly start: Vec3
  readonly end: Vec3
  /** Unit direction A→B (kept where the straight has no length or is overrun). */
  readonly direction: Vec3
}
export interface ArcPiece {
  readonly kind: 'arc'
  /** Bend number, 0-based. */
  readonly bend: number
  readonly from: number
  readonly to: number
  readonly start: Vec3
  readonly end: Vec3
  readonly centre: Vec3
  readonly radius: number
  /** Unit normal n: the tube turns right-handed (counter-clockwise seen against n) about it going A→B. */
  readonly normal: Vec3
  /** Unit direction at `start`. */
  readonly direction: Vec3
  readonly angleRad: number
}
export type Piece = LinePiece | ArcPiece

/** Names the degenerate case; `at` is a route index (point) or leg index. */
export interface RouteProblem {
  readonly code: 'tooFewPoints' | 'notFinite' | 'coincidentPoints' | 'reversal' | 'badClr' | 'missingFitting'
  readonly place: 'point' | 'leg' | 'run'
  readonly at: number
  readonly found: string
  readonly wanted: string
  /** Place, found and wanted, to be written in any unit; `message` is the same in mm. */
  readonly sentence: Sentence
  readonly message: string
}

/** A solved route. `straights` has one more entry than `bends`; a negative one is overrun by its tangents. */
export interface SolvedRoute {
  readonly points: readonly Vec3[]
  readonly pointIds: readonly string[]
  readonly straights: readonly number[]
  readonly bends: readonly SolvedBend[]
  /** Route indices of vertices passed through because their angle is below NO_BEND_DEG. */
  readonly passedThrough: readonly number[]
  readonly developedLength: number
  readonly pieces: readonly Piece[]
}

export type RouteResult =
  | { readonly ok: true; readonly route: SolvedRoute }
  | { readonly ok: false; readonly problem: RouteProblem }

/** A run of the document, solved. `route` is null when the route has a problem, which then says why. */
export interface SolvedRun {
  readonly runId: string
  readonly tag: string
  readonly route: SolvedRoute | null
  readonly problem: RouteProblem | null
  readonly insertionA: number
  readonly insertionB: number
  /** Spare at the end that trails at the first bend, cut off after bending, ≥ 0. */
  readonly trim: number
  /** How much longer the tube gets in each bend, A to B; empty when the route has a problem. */
  readonly stretch: readonly number[]
  /** Stock to cut: developed length + insertions + trim − stretch; null when the route has a problem. */
  readonly cutLength: number | null
}
