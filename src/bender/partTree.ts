import type { TubePart } from './tubePart.ts'

/**
 * Balls round the parts of a tube, and round balls, so that whole stretches are ruled out by one look. Node 1 is the
 * root, the children of i are 2i and 2i + 1, part k is node `leaves` + k. Four figures a node: centre and radius of the
 * centre line's ball, mm; the tube's own radius is not in it.
 */
export interface PartTree {
  readonly balls: Float64Array
  readonly leaves: number
  /** The farthest figure of it, mm; NaN when one is no number. */
  readonly farthest: number
}

const known = new WeakMap<readonly TubePart[], PartTree>()

/** The tree of these parts; of the same array it is made once. */
export function partTree(parts: readonly TubePart[]): PartTree {
  const before = known.get(parts)
  if (before !== undefined) return before
  const leaves = parts.length
  const balls = new Float64Array(8 * leaves)
  for (let k = 0; k < leaves; k++) ballOf(parts[k]!, balls, 4 * (leaves + k))
  let farthest = 0
  for (let i = 4 * leaves; i < balls.length; i += 4)
    for (let c = 0; c < 3; c++) farthest = Math.max(farthest, Math.abs(balls[i + c]!) + balls[i + 3]!)
  for (let i = leaves - 1; i >= 1; i--) joinBalls(balls, 4 * i, 8 * i, 8 * i + 4)
  const tree = { balls, leaves, farthest }
  known.set(parts, tree)
  return tree
}

function ballOf(part: TubePart, balls: Float64Array, at: number): void {
  if (part.kind === 'line') {
    let square = 0
    for (let c = 0; c < 3; c++) {
      balls[at + c] = (part.from[c]! + part.to[c]!) / 2
      square += (part.to[c]! - part.from[c]!) ** 2
    }
    balls[at + 3] = Math.sqrt(square) / 2
    return
  }
  const half = Math.min(part.angleRad, Math.PI) / 2
  // From the chord's middle no point of an arc up to a half circle is farther than the chord's ends.
  const off = part.angleRad >= Math.PI ? 0 : part.radius * Math.cos(half)
  for (let c = 0; c < 3; c++)
    balls[at + c] =
      part.centre[c]! + off * (part.out[c]! * Math.cos(half) + part.heading[c]! * Math.sin(half))
  balls[at + 3] = part.angleRad >= Math.PI ? part.radius : part.radius * Math.sin(half)
}

/** The least ball round two others. */
function joinBalls(balls: Float64Array, into: number, a: number, b: number): void {
  const [dx, dy, dz] = [balls[b]! - balls[a]!, balls[b + 1]! - balls[a + 1]!, balls[b + 2]! - balls[a + 2]!]
  const apart = Math.sqrt(dx * dx + dy * dy + dz * dz)
  const [ra, rb] = [balls[a + 3]!, balls[b + 3]!]
  const whole = apart + rb <= ra ? a : apart + ra <= rb ? b : -1
  if (whole >= 0) {
    for (let c = 0; c < 4; c++) balls[into + c] = balls[whole + c]!
    return
  }
  const radius = (apart + ra + rb) / 2
  const share = (radius - ra) / apart
  balls[into] = balls[a]! + dx * share
  balls[into + 1] = balls[a + 1]! + dy * share
  balls[into + 2] = balls[a + 2]! + dz * share
  // What rounding takes from a ball it must not lose of the tube.
  balls[into + 3] = radius * (1 + 1e-12)
}
