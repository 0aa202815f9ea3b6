import type { Piece } from '../../src/solve/types.ts'

export type P = readonly [number, number, number]

/** A grid of points on a drawn piece's outside, about 5 mm apart, but for the last `held` mm of it. */
export function* pointsOn(piece: Piece, r: number, held = 0): Generator<P> {
  const long = piece.to - piece.from - held
  if (long <= 0) return
  const count = Math.ceil(long / 5)
  for (let j = 0; j <= count; j++) {
    const s = (long * j) / count
    let core: P
    let heading: P
    if (piece.kind === 'line') {
      heading = piece.direction
      core = [0, 1, 2].map(c => piece.start[c]! + heading[c]! * s) as unknown as P
    } else {
      const a = s / piece.radius
      const out = [0, 1, 2].map(c => (piece.start[c]! - piece.centre[c]!) / piece.radius)
      core = [0, 1, 2].map(
        c => piece.centre[c]! + piece.radius * (out[c]! * Math.cos(a) + piece.direction[c]! * Math.sin(a)),
      ) as unknown as P
      heading = [0, 1, 2].map(c => piece.direction[c]! * Math.cos(a) - out[c]! * Math.sin(a)) as unknown as P
    }
    const helper: P = Math.abs(heading[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]
    const cross = (a: P, b: P): P => [
      a[1] * b[2] - a[2] * b[1],
      a[2] * b[0] - a[0] * b[2],
      a[0] * b[1] - a[1] * b[0],
    ]
    const raw = cross(heading, helper)
    const l = Math.hypot(...raw)
    const side: P = [raw[0] / l, raw[1] / l, raw[2] / l]
    const up = cross(heading, side)
    for (let q = 0; q < 10; q++) {
      const [c, sn] = [Math.cos((q * Math.PI) / 5) * r, Math.sin((q * Math.PI) / 5) * r]
      yield [0, 1, 2].map(x => core[x]! + side[x]! * c + up[x]! * sn) as unknown as P
    }
  }
}
