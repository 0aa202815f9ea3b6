import {
  addScaled,
  anySquareTo,
  cross,
  length,
  negate,
  scale,
  sub,
  turnDirection,
  type Vec3,
} from '../geometry/vec3.ts'
import { pointOn } from '../solve/centreLine.ts'
import { OutputError } from './outputError.ts'
import type { SolidTube } from './solidTubes.ts'

/** Triangles of one tube: outside, bore and both ends. Lengths mm; counter-clockwise seen from outside the metal. */
export interface TubeMesh {
  readonly positions: readonly Vec3[]
  /** Unit, out of the metal; one per position. Positions on the rims stand twice, once per face. */
  readonly normals: readonly Vec3[]
  /** Three per triangle. */
  readonly indices: readonly number[]
  /** No triangle is further than this from the true surface, mm. */
  readonly chordError: number
}

/** mm. A tenth of a millimetre is under any bench's reading and keeps a six-bend tube under 10,000 triangles. */
export const DEFAULT_CHORD_ERROR = 0.1

const FEWEST_SIDES = 12

/** A direction square to the tube carried along without twist: one ring of points per entry. */
interface Ring {
  readonly centre: Vec3
  readonly direction: Vec3
  readonly side: Vec3
}

/**
 * A watertight mesh of the hollow tube: true outside and bore at the rings, chords between.
 *
 * @param chordError greatest distance between the true surface and the triangles, mm, > 0; half goes to the sag
 *   round the tube, half to the sag along the outer side of the bends.
 * @throws OutputError when `chordError` is no length above 0.
 */
export function tubeMesh(tube: SolidTube, chordError = DEFAULT_CHORD_ERROR): TubeMesh {
  if (!(chordError >= 1e-5 && Number.isFinite(chordError)))
    throw new OutputError('chord error', `${chordError} mm`, 'a length of 0.00001 mm or more')
  const outer = tube.od / 2
  const bore = outer - tube.wall
  const sides = Math.max(FEWEST_SIDES, partsOfTurn(2 * Math.PI, outer, chordError / 2))
  const rings = ringsAlong(tube, chordError / 2)
  const positions: Vec3[] = []
  const normals: Vec3[] = []
  const indices: number[] = []

  const place = (ring: Ring, radius: number, normalOf: (out: Vec3) => Vec3): number => {
    const first = positions.length
    const across = cross(ring.direction, ring.side)
    for (let j = 0; j < sides; j++) {
      const turn = (2 * Math.PI * j) / sides
      const out = addScaled(scale(ring.side, Math.cos(turn)), across, Math.sin(turn))
      positions.push(addScaled(ring.centre, out, radius))
      normals.push(normalOf(out))
    }
    return first
  }
  const band = (a: number, b: number, inwards: boolean) => {
    for (let j = 0; j < sides; j++) {
      const k = (j + 1) % sides
      if (inwards) indices.push(a + j, b + j, a + k, a + k, b + j, b + k)
      else indices.push(a + j, a + k, b + j, a + k, b + k, b + j)
    }
  }

  for (const [radius, inwards] of [
    [outer, false],
    [bore, true],
  ] as const) {
    const firsts = rings.map(ring => place(ring, radius, out => (inwards ? negate(out) : out)))
    for (let i = 0; i + 1 < firsts.length; i++) band(firsts[i]!, firsts[i + 1]!, inwards)
  }
  for (const [ring, atA] of [
    [rings[0]!, true],
    [rings[rings.length - 1]!, false],
  ] as const) {
    const normal = atA ? negate(ring.direction) : ring.direction
    const rim = place(ring, outer, () => normal)
    const hole = place(ring, bore, () => normal)
    if (atA) band(hole, rim, false)
    else band(rim, hole, false)
  }
  return { positions, normals, indices, chordError }
}

/** How many chords keep an arc of `turn` radians within `sag` of its circle. */
function partsOfTurn(turn: number, radius: number, sag: number): number {
  const each = 2 * Math.acos(Math.max(0, 1 - sag / radius))
  return Math.max(1, Math.ceil(turn / each - 1e-9))
}

function ringsAlong(tube: SolidTube, sag: number): Ring[] {
  const first = tube.pieces[0]!
  let side = anySquareTo(first.direction)
  const rings: Ring[] = [{ centre: first.start, direction: first.direction, side }]
  for (const piece of tube.pieces) {
    if (piece.kind === 'line') {
      rings.push({ centre: piece.end, direction: piece.direction, side })
      continue
    }
    const parts = partsOfTurn(piece.angleRad, piece.radius + tube.od / 2, sag)
    const start = side
    for (let i = 1; i <= parts; i++) {
      const along = (piece.angleRad * piece.radius * i) / parts
      const { point, direction } = pointOn(piece, along)
      side = turnDirection(start, piece.normal, (piece.angleRad * i) / parts)
      rings.push({ centre: i === parts ? piece.end : point, direction, side })
    }
  }
  return rings
}

/** Unit normal of a triangle, right-handed; zero for one without area. */
export function triangleNormal(a: Vec3, b: Vec3, c: Vec3): Vec3 {
  const n = cross(sub(b, a), sub(c, a))
  const l = length(n)
  return l > 0 ? scale(n, 1 / l) : [0, 0, 0]
}
