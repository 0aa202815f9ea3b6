import { addScaled, distance, type Vec3 } from '../geometry/vec3.ts'
import type { Piece, SolvedRoute, SolvedRun } from './types.ts'

/** A port's face on the tube that goes into it. */
export interface TubeFace {
  readonly end: 'A' | 'B'
  readonly at: Vec3
  /** Unit, along the tube from A to B. */
  readonly direction: Vec3
  /** From the tube's own end to the face, mm > 0: where the insertion mark goes. */
  readonly fromEnd: number
}

/** The tube as it lies finished on the bench, what goes into the fittings included and any trim cut off. Lengths mm. */
export interface FinishedTube {
  /** Lines and arcs from cut end to cut end, A to B. */
  readonly pieces: readonly Piece[]
  /** The tube's end A, the route's vertices, the tube's end B. */
  readonly points: readonly Vec3[]
  readonly bends: SolvedRoute['bends']
  /** Of the ends that go into something; none for a free end. */
  readonly faces: readonly TubeFace[]
  /** Straight line from end to end of the tube. */
  readonly endToEnd: number
  /** Straight line between the points that the route begins and ends at: the faces, or free ends. */
  readonly faceToFace: number
}

/** @param solved says how far the tube goes in at each end of this, its route. */
export function finishedTube(
  route: SolvedRoute,
  { insertionA, insertionB }: Pick<SolvedRun, 'insertionA' | 'insertionB'>,
): FinishedTube {
  const last = route.pieces.length - 1
  const pieces = route.pieces.map((p, i): Piece => {
    if (p.kind !== 'line') return p
    const before = i === 0 ? insertionA : 0
    const after = i === last ? insertionB : 0
    return {
      ...p,
      from: p.from - before,
      to: p.to + after,
      start: addScaled(p.start, p.direction, -before),
      end: addScaled(p.end, p.direction, after),
    }
  })
  const points = [...route.points]
  const [first, final] = [points[0]!, points[points.length - 1]!]
  points[0] = pieces[0]!.start
  points[points.length - 1] = pieces[last]!.end
  const faces = [
    { end: 'A' as const, at: first, direction: directionOf(pieces[0]!), fromEnd: insertionA },
    { end: 'B' as const, at: final, direction: directionOf(pieces[last]!), fromEnd: insertionB },
  ]
  return {
    pieces,
    points,
    bends: route.bends,
    faces: faces.filter(f => f.fromEnd > 0),
    endToEnd: distance(points[0], points[points.length - 1]!),
    faceToFace: distance(first, final),
  }
}

/** The outer pieces of a route are lines, which keep one direction. */
const directionOf = (piece: Piece): Vec3 => piece.direction
