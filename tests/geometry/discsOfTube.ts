import type { Vec3 } from '../../src/geometry/vec3.ts'

/**
 * An oracle that shares no code with what it judges: a tube is the discs of its cross-sections, one at every place of its
 * centre line, and nothing else. Bends may be tighter than the tube is thick. Lengths mm.
 */

/** A centre line: straights and bends in turn, from a place and a frame. */
export interface Line {
  readonly at: Vec3
  readonly way: Vec3
  /** Square to `way`. The first bend turns towards it; then it is turned about the tube before every bend. */
  readonly side: Vec3
  readonly clr: number
  readonly straights: readonly number[]
  /** Radians. `rotation` is about the tube, before the bend. */
  readonly bends: readonly { readonly angle: number; readonly rotation: number }[]
}

/** A cross-section: middle, and two unit directions across. */
export interface Disc {
  readonly c: Vec3
  readonly x: Vec3
  readonly y: Vec3
}

const mix = (a: Vec3, s: number, b: Vec3, t: number): Vec3 => [
  a[0] * s + b[0] * t,
  a[1] * s + b[1] * t,
  a[2] * s + b[2] * t,
]
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]

interface Part {
  readonly at: Vec3
  readonly way: Vec3
  readonly side: Vec3
  /** 0 is a straight. */
  readonly clr: number
  readonly long: number
}

/** The parts of a line, each with the frame it begins with. */
export function partsOf(line: Line): readonly Part[] {
  const parts: Part[] = []
  let { at, way, side } = line
  line.straights.forEach((long, k) => {
    parts.push({ at, way, side, clr: 0, long })
    at = mix(at, 1, way, long)
    const bend = line.bends[k]
    if (!bend) return
    side = mix(side, Math.cos(bend.rotation), cross(way, side), Math.sin(bend.rotation))
    parts.push({ at, way, side, clr: line.clr, long: line.clr * bend.angle })
    const centre = mix(at, 1, side, line.clr)
    const [c, s] = [Math.cos(bend.angle), Math.sin(bend.angle)]
    const out = mix(side, -c, way, s)
    at = mix(centre, 1, out, line.clr)
    way = mix(way, c, side, s)
    side = mix(out, -1, out, 0)
  })
  return parts
}

export const lengthOfLine = (parts: readonly Part[]): number => parts.reduce((sum, p) => sum + p.long, 0)

/** The cross-section `s` mm along. */
export function discAtPlace(parts: readonly Part[], s: number): Disc {
  let left = Math.max(s, 0)
  let k = 0
  while (left > parts[k]!.long && k < parts.length - 1) left -= parts[k++]!.long
  const part = parts[k]!
  const binormal = cross(part.way, part.side)
  if (part.clr === 0) return { c: mix(part.at, 1, part.way, left), x: part.side, y: binormal }
  const t = left / part.clr
  const out = mix(part.side, -Math.cos(t), part.way, Math.sin(t))
  const c = mix(mix(part.at, 1, part.side, part.clr), 1, out, part.clr)
  return { c, x: out, y: binormal }
}

/** Distance from a convex body, mm: 0 or less inside. */
export type Away = (p: Vec3) => number

const GOLDEN = (Math.sqrt(5) - 1) / 2
/** The least of a function with one dip, by golden sections. */
function least(f: (x: number) => number, from: number, to: number, steps: number): number {
  let [a, b] = [from, to]
  let [x, y] = [b - GOLDEN * (b - a), a + GOLDEN * (b - a)]
  let [fx, fy] = [f(x), f(y)]
  let best = Math.min(fx, fy)
  for (let k = 0; k < steps; k++) {
    if (fx < fy) {
      ;[b, y, fy] = [y, x, fx]
      x = b - GOLDEN * (b - a)
      fx = f(x)
    } else {
      ;[a, x, fx] = [x, y, fy]
      y = a + GOLDEN * (b - a)
      fy = f(y)
    }
    best = Math.min(best, fx, fy)
  }
  return best
}

/** Distance of one disc from a convex body: the body's distance is convex over the disc. */
const fromDisc = ({ c, x, y }: Disc, r: number, away: Away, steps: number): number =>
  least(
    u => {
      const half = Math.sqrt(Math.max(r * r - u * u, 0))
      return least(v => away(mix(mix(c, 1, x, u), 1, y, v)), -half, half, steps)
    },
    -r,
    r,
    steps,
  )

/**
 * Distance of a tube's discs between two ways along it from a convex body, mm, right to about 1e-4 where it is above 0 and
 * with a step of `step` mm first; negative means nothing but that they overlap.
 */
export function discsFromBody(
  parts: readonly Part[],
  [from, to]: readonly [number, number],
  radius: number,
  away: Away,
  step = 2,
): number {
  const n = Math.max(Math.ceil((to - from) / step), 4)
  const place = (k: number) => from + ((to - from) * Math.min(Math.max(k, 0), n)) / n
  const near = Array.from({ length: n + 1 }, (_, k) => ({
    k,
    d: fromDisc(discAtPlace(parts, place(k)), radius, away, 14),
  })).sort((p, q) => p.d - q.d)
  let best = near[0]!.d
  for (const { k, d } of near.slice(0, 5)) {
    if (d > best + 4 * step) break
    const at = (s: number) => fromDisc(discAtPlace(parts, s), radius, away, 34)
    best = Math.min(best, at(place(k)), least(at, place(k - 1), place(k + 1), 26))
  }
  return best
}
