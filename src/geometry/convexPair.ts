import type { Convex } from './convex.ts'
import { add, cross, dot, length, scale, sub, type Vec3 } from './vec3.ts'

export interface ConvexPair {
  /** Distance of the two points, mm ≥ 0; 0 when the solids overlap. */
  readonly upper: number
  /** The solids are certainly at least this far apart, mm ≥ 0. */
  readonly lower: number
  readonly overlap: boolean
  readonly pointA: Vec3
  readonly pointB: Vec3
}

interface Corner {
  readonly w: Vec3
  readonly a: Vec3
  readonly b: Vec3
}
interface Nearest {
  readonly v: Vec3
  readonly keep: readonly Corner[]
  readonly weights: readonly number[]
}

const MAX_STEPS = 200
/** Nearer than this the solids touch: rounding of coordinates of some metres. mm */
const TOUCH = 1e-9

/**
 * Least distance between two convex solids, by the method of Gilbert, Johnson and Keerthi (1988, from memory) on
 * their support functions. Upper and lower bound come from the same step: the nearest point of the inner simplex,
 * and the plane through the support point square to it.
 *
 * @param tolerance stop once upper − lower is below this, mm.
 * @throws RangeError when a solid has no support function (a half space).
 */
export function convexDistance(A: Convex, B: Convex, tolerance: number): ConvexPair {
  const { support: sa } = A
  const { support: sb } = B
  if (!sa || !sb) throw new RangeError('convexDistance: found a half space, wanted two bounded solids')
  const corner = (n: Vec3): Corner => {
    const a = sa(scale(n, -1))
    const b = sb(n)
    return { w: sub(a, b), a, b }
  }
  let near: Nearest = { v: [0, 0, 0], keep: [], weights: [] }
  const first = corner(sub(A.low, B.low))
  near = { v: first.w, keep: [first], weights: [1] }
  let lower = 0
  for (let step = 0; step < MAX_STEPS; step++) {
    const size = length(near.v)
    if (size <= TOUCH) return answer(near, 0, true)
    const next = corner(near.v)
    lower = Math.max(lower, dot(near.v, next.w) / size)
    if (size - lower <= tolerance) break
    if (near.keep.some(c => length(sub(c.w, next.w)) <= 1e-13 * size)) break
    const better = nearestOfSimplex([...near.keep, next])
    if (better === null) {
      // A plane between the two is a proof; a sliver that seems to hold the origin all the same is rounding.
      if (lower > TOUCH) break
      return answer(near, 0, true)
    }
    if (length(better.v) >= size) break
    near = better
  }
  return answer(near, lower, false)
}

function answer({ v, keep, weights }: Nearest, lower: number, overlap: boolean): ConvexPair {
  const mix = (side: 'a' | 'b') =>
    keep.reduce<Vec3>((p, c, i) => add(p, scale(c[side], weights[i]!)), [0, 0, 0])
  return { upper: overlap ? 0 : length(v), lower, overlap, pointA: mix('a'), pointB: mix('b') }
}

/** Point of the simplex nearest to the origin with its smallest carrying face; null when the origin is inside. */
function nearestOfSimplex(corners: readonly Corner[]): Nearest | null {
  const n = corners.length
  if (n === 4 && holdsOrigin(corners)) return null
  let best: Nearest | null = null
  let least = Infinity
  // Every face that carries the newest corner; at most seven, each solved in closed form.
  for (let mask = 1; mask < 1 << n; mask++) {
    if (mask === 15) continue
    const face = corners.filter((_, i) => mask & (1 << i))
    const found = nearestInside(face)
    if (!found) continue
    const l = dot(found.v, found.v)
    if (l < least) {
      least = l
      best = found
    }
  }
  return best
}

/** Foot of the origin on the point, line or plane of `face`, when it lies inside the face. */
function nearestInside(face: readonly Corner[]): Nearest | null {
  const [p, q, r] = face
  if (!p) return null
  if (!q) return { v: p.w, keep: face, weights: [1] }
  const e = sub(q.w, p.w)
  if (!r) {
    const l = dot(e, e)
    if (l === 0) return null
    const t = -dot(p.w, e) / l
    if (t <= 0 || t >= 1) return null
    return { v: add(p.w, scale(e, t)), keep: face, weights: [1 - t, t] }
  }
  const f = sub(r.w, p.w)
  const normal = cross(e, f)
  const l = dot(normal, normal)
  if (l <= 1e-26 * dot(e, e) * dot(f, f)) return null
  const foot = scale(normal, dot(normal, p.w) / l)
  const d = sub(foot, p.w)
  const beta = dot(cross(d, f), normal) / l
  const gamma = dot(cross(e, d), normal) / l
  const alpha = 1 - beta - gamma
  if (alpha <= 0 || beta <= 0 || gamma <= 0) return null
  return { v: foot, keep: face, weights: [alpha, beta, gamma] }
}

function holdsOrigin(c: readonly Corner[]): boolean {
  const p = c.map(x => x.w)
  for (let i = 0; i < 4; i++) {
    const [a, b, d] = [0, 1, 2, 3].filter(k => k !== i).map(k => p[k]!) as [Vec3, Vec3, Vec3]
    const normal = cross(sub(b, a), sub(d, a))
    const inside = dot(normal, sub(p[i]!, a))
    const origin = -dot(normal, a)
    if (inside * origin < 0 || Math.abs(inside) < 1e-12 * length(normal)) return false
  }
  return true
}
