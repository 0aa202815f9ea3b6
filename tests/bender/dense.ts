import type { ConvexSolid } from '../../src/bender/convex.ts'
import type { Motion } from '../../src/bender/motion.ts'
import type { SweepJob } from '../../src/bender/sweep.ts'
import type { TubePart } from '../../src/bender/tubePart.ts'
import { seeded } from './random.ts'

type P = readonly [number, number, number]
const dot = (a: P, b: P) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const at = (a: P, b: P, s: number): P => [a[0] + b[0] * s, a[1] + b[1] * s, a[2] + b[2] * s]
const cross = (a: P, b: P): P => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const unit = (a: P): P => at([0, 0, 0], a, 1 / Math.hypot(a[0], a[1], a[2]))

/** Point of the tube: `s` along the part in [0, 1], `around` its section, `out` from its centre line in [0, 1]. */
function tubePoint(part: TubePart, radius: number, s: number, around: number, out: number): P {
  let core: P
  let heading: P
  if (part.kind === 'line') {
    const d = at(part.to, part.from, -1)
    core = at(part.from, d, s)
    heading = unit(d)
  } else {
    const a = part.angleRad * s
    core = at(at(part.centre, part.out, part.radius * Math.cos(a)), part.heading, part.radius * Math.sin(a))
    heading = at(at([0, 0, 0], part.heading, Math.cos(a)), part.out, -Math.sin(a))
  }
  // One steady side along a bend, its plane's normal: a side that jumps would trap the walk downhill.
  const [x, y, z] = heading.map(Math.abs) as [number, number, number]
  const across: P = x <= y && x <= z ? [1, 0, 0] : y <= z ? [0, 1, 0] : [0, 0, 1]
  const side = unit(part.kind === 'arc' ? cross(part.out, part.heading) : cross(heading, across))
  const up = cross(heading, side)
  return at(at(core, side, radius * out * Math.cos(around)), up, radius * out * Math.sin(around))
}

function turned(p: P, origin: P, axis: P, by: number): P {
  const v = at(p, origin, -1)
  const along = dot(v, axis)
  const square = at(v, axis, -along)
  const ahead = cross(axis, v)
  const r = at(at(at([0, 0, 0], axis, along), square, Math.cos(by)), ahead, Math.sin(by))
  return at(origin, r, 1)
}

function place(m: Motion, p: P, t: number): P {
  if (m.kind === 'still') return p
  if (m.kind === 'shift') return at(p, m.along, t)
  if (m.kind === 'turn') return turned(p, m.origin, m.axis, t)
  return turned(at(p, [1, 0, 0], m.feed * t), m.origin, [0, 0, 1], m.sense * t)
}

/** Signed distance from the surface, negative inside, by the plain definition. */
export function depth(solid: ConvexSolid, p: P): number {
  const v = at(p, solid.centre, -1)
  const over =
    solid.shape === 'box'
      ? solid.axes.map((axis, i) => Math.abs(dot(v, axis)) - solid.half[i]!)
      : [
          Math.abs(dot(v, solid.axis)) - solid.halfLength,
          Math.hypot(...at(v, solid.axis, -dot(v, solid.axis))) - solid.radius,
        ]
  const worst = Math.max(...over)
  return worst <= 0 ? worst : Math.hypot(...over.map(o => Math.max(0, o)))
}

/** How finely the motion, the length and the section are sampled before the best samples are refined. */
export interface Grid {
  readonly times: number
  readonly lengths: number
  readonly sections: number
  /** Throws in vain before the reach of the last refinement is halved. */
  readonly throws: number
}

/**
 * Least clearance found by sampling the tube's outside (and its flat ends) densely over the motion and walking
 * downhill from the best samples. Always a clearance that really occurs: never under the true least.
 */
export function denseLeast(jobs: readonly SweepJob[], radius: number, grid: Grid): number {
  let least = Number.POSITIVE_INFINITY
  for (const job of jobs)
    for (const part of job.parts)
      for (const solid of job.solids) {
        const { from, to } = job.motion
        const f = (x: readonly number[]) =>
          depth(
            solid,
            place(job.motion, tubePoint(part, radius, x[1]!, x[2]!, x[3]!), from + (to - from) * x[0]!),
          )
        const starts: { value: number; x: number[] }[] = []
        for (let i = 0; i <= grid.times; i++) {
          let best = { value: Number.POSITIVE_INFINITY, x: [0, 0, 0, 0] }
          for (let j = 0; j <= grid.lengths; j++)
            for (let k = 0; k < grid.sections; k++)
              for (const out of [0, 1]) {
                const x = [i / grid.times, j / grid.lengths, (2 * Math.PI * k) / grid.sections, out]
                const value = f(x)
                if (value < best.value) best = { value, x }
              }
          starts.push(best)
        }
        starts.sort((a, b) => a.value - b.value)
        least = Math.min(least, starts[0]!.value)
        const picked: number[][] = []
        for (const s of starts) {
          if (picked.length >= 3) break
          if (picked.every(p => Math.abs(p[0]! - s.x[0]!) > 3 / grid.times)) picked.push(s.x)
        }
        for (const x of picked) least = Math.min(least, downhill(f, x, grid))
      }
  return least
}

/** Walks downhill along the axes and along remembered valleys (Hooke and Jeeves), steps halved to 1e-7. */
function downhill(f: (x: readonly number[]) => number, start: readonly number[], grid: Grid): number {
  const within = (x: number[]) => x.map((v, i) => (i === 2 ? v : Math.min(1, Math.max(0, v))))
  const first = [1 / grid.times, 1 / grid.lengths, Math.PI / grid.sections, 0.5]
  let base = [...start]
  let value = f(base)
  let size = 1
  const explore = (from: number[], known: number): [number[], number] => {
    let x = from
    let best = known
    for (let i = 0; i < 4; i++)
      for (const sign of [1, -1]) {
        const y = within(x.map((v, j) => (j === i ? v + sign * size * first[i]! : v)))
        const g = f(y)
        if (g < best) {
          x = y
          best = g
          break
        }
      }
    return [x, best]
  }
  for (let round = 0; round < 4000 && size > 1e-7; round++) {
    const [x, best] = explore(base, value)
    if (best >= value) {
      size /= 2
      continue
    }
    const leap = within(x.map((v, i) => 2 * v - base[i]!))
    base = x
    value = best
    const [y, further] = explore(leap, f(leap))
    if (further < value) {
      base = y
      value = further
    }
  }
  // Creases (rims, edges) stop walks along the axes: finish with throws in all directions, shrinking when they miss.
  const throwOne = seeded(1)
  let reach = 1
  for (let misses = 0; reach > 1e-6; ) {
    const x = within(base.map((v, i) => v + (2 * throwOne() - 1) * reach * first[i]!))
    const g = f(x)
    if (g < value) {
      base = x
      value = g
      misses = 0
      reach *= 1.5
    } else if (++misses > grid.throws) {
      misses = 0
      reach /= 2
    }
  }
  return value
}
