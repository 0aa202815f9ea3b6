import { add, addScaled, anySquareTo, cross, scale, turnDirection, type Vec3 } from '../../geometry/vec3.ts'
import { pointOn } from '../../solve/centreLine.ts'
import type { ArcPiece, LinePiece, Piece } from '../../solve/types.ts'

export interface TubeDetail {
  /** Flats round the tube. */
  readonly segments: number
  /** Farthest a chord may lie off the arc of a bend's centre line, mm. */
  readonly chordError: number
}
export const FULL_DETAIL: TubeDetail = { segments: 28, chordError: 0.04 }
export const PLAIN_DETAIL: TubeDetail = { segments: 12, chordError: 0.3 }

/** For a route of so many bends that every triangle counts. */
const COARSE_DETAIL: TubeDetail = { segments: 7, chordError: 2 }
/** Positions of one tube that a graphics card takes without a pause. */
const MOST_POSITIONS = 400_000

const positionsOf = (pieces: readonly Piece[], { segments, chordError }: TubeDetail): number =>
  pieces.reduce((sum, p) => sum + 2 * segments * (p.kind === 'arc' ? stepsOf(p, chordError) + 1 : 2), 0)

/** The finest detail, full (or plain) at most, that keeps a tube's positions within reason. */
export function detailFor(pieces: readonly Piece[], plain: boolean): TubeDetail {
  const finest = [FULL_DETAIL, PLAIN_DETAIL].slice(plain ? 1 : 0)
  return finest.find(detail => positionsOf(pieces, detail) <= MOST_POSITIONS) ?? COARSE_DETAIL
}

/** For tubes of many, drawn as bars without a bore but for the finest. */
const MANY_DETAILS: readonly { readonly detail: TubeDetail; readonly bored: boolean }[] = [
  { detail: PLAIN_DETAIL, bored: true },
  { detail: { segments: 10, chordError: 0.6 }, bored: false },
  { detail: { segments: 8, chordError: 1.2 }, bored: false },
  { detail: { segments: 6, chordError: 2 }, bored: false },
]
/** Positions of all tubes together: with antialiasing a graphics card is at work, without it perhaps a processor. */
const MOST_OF_MANY = { full: 1_200_000, plain: 400_000 }

/** Positions of a tube in each of those details: an edit touches one tube of thousands. */
const counted = new WeakMap<readonly Piece[], readonly number[]>()
function countsOf(pieces: readonly Piece[]): readonly number[] {
  let counts = counted.get(pieces)
  if (!counts) {
    counts = MANY_DETAILS.map(({ detail, bored }) => positionsOf(pieces, detail) / (bored ? 1 : 2))
    counted.set(pieces, counts)
  }
  return counts
}

/** One detail for all tubes of a skid of many runs: the finest that keeps all of them within reason. */
export function detailForMany(
  tubes: readonly (readonly Piece[])[],
  plain: boolean,
): { readonly detail: TubeDetail; readonly bored: boolean } {
  const most = plain ? MOST_OF_MANY.plain : MOST_OF_MANY.full
  return (
    MANY_DETAILS.find((_, i) => tubes.reduce((sum, pieces) => sum + countsOf(pieces)[i]!, 0) <= most) ??
    MANY_DETAILS.at(-1)!
  )
}

function stepsOf(arc: ArcPiece, chordError: number): number {
  const most = 2 * Math.acos(Math.max(0, 1 - chordError / arc.radius))
  return Math.max(2, Math.ceil(arc.angleRad / Math.max(most, 1e-3)))
}

/** Triangles of a tube in mm, ready for one indexed buffer geometry. */
export interface TubeMesh {
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly index: Uint32Array
  /** Piece number of every position, to colour by. */
  readonly pieceOf: Uint32Array
  /** Where in `index` each piece's outer wall lies; count 0 for an overrun straight, which has no tube. */
  readonly ranges: readonly { readonly start: number; readonly count: number }[]
}

interface Ring {
  readonly centre: Vec3
  readonly u: Vec3
  readonly v: Vec3
}

/** Rings along a piece; `u` is carried along without twist, so that neighbouring rings line up. */
function ringsOf(piece: Piece, u: Vec3, chordError: number): Ring[] {
  const ring = (along: number, turned: Vec3): Ring => {
    const { point, direction } = pointOn(piece, along)
    return { centre: point, u: turned, v: cross(direction, turned) }
  }
  const run = piece.to - piece.from
  if (piece.kind === 'line') return [ring(0, u), ring(run, u)]
  const steps = stepsOf(piece, chordError)
  return Array.from({ length: steps + 1 }, (_, i) => {
    const t = i / steps
    return ring(run * t, turnDirection(u, piece.normal, piece.angleRad * t))
  })
}

/**
 * The tube's true outside and bore along its pieces, with flat annular ends: closed, outward-facing, smooth round
 * and along. An overrun (negative) straight has no tube: the wall ends before it and starts anew after it.
 *
 * @param od outside diameter, mm, > 0.
 * @param wall mm; a wall of half the OD or more (or none) makes a solid bar.
 */
export function tubeMesh(pieces: readonly Piece[], od: number, wall: number, detail: TubeDetail): TubeMesh {
  const n = detail.segments
  const outer = od / 2
  const bore = wall > 0 && wall < outer ? outer - wall : 0
  const cos = Array.from({ length: n }, (_, i) => Math.cos((2 * Math.PI * i) / n))
  const sin = Array.from({ length: n }, (_, i) => Math.sin((2 * Math.PI * i) / n))
  const positions: number[] = []
  const normals: number[] = []
  const pieceOf: number[] = []
  const index: number[] = []

  const emit = (p: Vec3, normal: Vec3, piece: number) => {
    positions.push(p[0], p[1], p[2])
    normals.push(normal[0], normal[1], normal[2])
    pieceOf.push(piece)
  }
  /** One ring of positions; gives the number of its first. `facing` null: normals stand out (or in) radially. */
  const circle = (
    ring: Ring,
    radius: number,
    piece: number,
    facing: Vec3 | null,
    inwards = false,
  ): number => {
    const first = pieceOf.length
    for (let i = 0; i < n; i++) {
      const out = add(scale(ring.u, cos[i]!), scale(ring.v, sin[i]!))
      emit(addScaled(ring.centre, out, radius), facing ?? (inwards ? scale(out, -1) : out), piece)
    }
    return first
  }
  const band = (a: number, b: number, flip: boolean) => {
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n
      if (flip) index.push(a + i, b + i, a + j, a + j, b + i, b + j)
      else index.push(a + i, a + j, b + i, b + i, a + j, b + j)
    }
  }
  const cap = (ring: Ring, piece: number, atStart: boolean) => {
    const direction = cross(ring.u, ring.v)
    const facing = atStart ? scale(direction, -1) : direction
    const rim = circle(ring, outer, piece, facing)
    if (bore > 0) band(rim, circle(ring, bore, piece, facing), atStart)
    else {
      const middle = pieceOf.length
      emit(ring.centre, facing, piece)
      for (let i = 0; i < n; i++) {
        const j = (i + 1) % n
        if (atStart) index.push(middle, rim + j, rim + i)
        else index.push(middle, rim + i, rim + j)
      }
    }
  }

  const ranges = pieces.map(() => ({ start: 0, count: 0 }))
  const swept: { rings: Ring[]; piece: number }[][] = [[]]
  const first = pieces[0]
  let u: Vec3 = first ? anySquareTo(first.direction) : [1, 0, 0]
  pieces.forEach((piece, k) => {
    const backwards = piece.kind === 'line' && piece.to <= piece.from
    if (backwards) {
      if (piece.to < piece.from && swept.at(-1)!.length > 0) swept.push([])
      return
    }
    const rings = ringsOf(piece, u, detail.chordError)
    u = rings.at(-1)!.u
    swept.at(-1)!.push({ rings, piece: k })
  })

  for (const stretch of swept)
    for (const { rings, piece } of stretch) {
      const start = index.length
      let before = -1
      for (const ring of rings) {
        const here = circle(ring, outer, piece, null)
        if (before >= 0) band(before, here, false)
        before = here
      }
      ranges[piece] = { start, count: index.length - start }
    }
  for (const stretch of swept) {
    if (bore > 0)
      for (const { rings, piece } of stretch) {
        let before = -1
        for (const ring of rings) {
          const here = circle(ring, bore, piece, null, true)
          if (before >= 0) band(before, here, true)
          before = here
        }
      }
    const head = stretch[0]
    const tail = stretch.at(-1)
    if (head && tail) {
      cap(head.rings[0]!, head.piece, true)
      cap(tail.rings.at(-1)!, tail.piece, false)
    }
  }
  return {
    positions: new Float32Array(positions),
    normals: new Float32Array(normals),
    index: new Uint32Array(index),
    pieceOf: new Uint32Array(pieceOf),
    ranges,
  }
}

/** The backward stretches as straights of their own, the right way round: what a sleeve round them is swept along. */
export function overrunLines(pieces: readonly Piece[]): LinePiece[] {
  return pieces.flatMap((p): LinePiece[] =>
    p.kind === 'line' && p.to < p.from ? [{ ...p, from: p.to, to: p.from, start: p.end, end: p.start }] : [],
  )
}

/** Backward stretches as dashes (pairs of points, mm): what of the route no tube can follow. */
export function overrunDashes(pieces: readonly Piece[], dash: number): Vec3[] {
  const points: Vec3[] = []
  for (const piece of pieces) {
    if (piece.kind !== 'line' || piece.to >= piece.from) continue
    const back = piece.from - piece.to
    const count = Math.min(40, Math.max(3, Math.round(back / (2 * dash))))
    const step = back / count
    for (let i = 0; i < count; i++)
      points.push(
        addScaled(piece.start, piece.direction, -i * step),
        addScaled(piece.start, piece.direction, -(i + 0.6) * step),
      )
  }
  return points
}
