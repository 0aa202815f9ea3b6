import type { Shape, Swept } from '../../src/geometry/swept.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { rowsToPoints } from '../../src/solve/rows.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'

/** The oracle of the distance tests: plain sampling of true surfaces, sharing no code with what it judges. */

const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const norm = (a: Vec3) => Math.hypot(a[0], a[1], a[2])
const mix = (a: Vec3, s: number, b: Vec3, t: number): Vec3 => [
  a[0] * s + b[0] * t,
  a[1] * s + b[1] * t,
  a[2] * s + b[2] * t,
]
const unit = (a: Vec3): Vec3 => mix(a, 1 / norm(a), a, 0)

/** Distance from a point to the solid rod (0 inside), flat where it is cut; exact, shape by shape. */
export function pointToTube(p: Vec3, tube: Swept): number {
  let least = Infinity
  for (const shape of tube.shapes) {
    if (shape.kind === 'line') {
      const l = norm(sub(shape.end, shape.start))
      const h = dot(sub(p, shape.start), shape.direction)
      const rho = norm(sub(sub(p, shape.start), mix(shape.direction, h, shape.direction, 0)))
      const out = Math.max(rho - tube.radius, 0)
      const past = Math.max(-h, h - l, 0)
      least = Math.min(least, Math.hypot(out, past))
    } else {
      const x = unit(sub(shape.start, shape.centre))
      const r = sub(p, shape.centre)
      const angle = Math.atan2(dot(r, shape.direction), dot(r, x))
      // Past its ends the neighbouring straights' flat-ended cylinders are nearer.
      if (angle < 0 || angle > shape.angleRad) continue
      const h = dot(r, shape.normal)
      const rho = Math.hypot(dot(r, x), dot(r, shape.direction))
      least = Math.min(least, Math.max(Math.hypot(rho - shape.radius, h) - tube.radius, 0))
    }
  }
  return least
}

/** Frame of the cross-section at `t` (0…1 of a shape): centre and two square unit directions. */
function section(shape: Shape, t: number): { c: Vec3; x: Vec3; y: Vec3 } {
  if (shape.kind === 'line') {
    const d = shape.direction
    const seed: Vec3 = Math.abs(d[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]
    const x = unit(cross(d, seed))
    return { c: mix(shape.start, 1 - t, shape.end, t), x, y: cross(d, x) }
  }
  const a = t * shape.angleRad
  const out = unit(sub(shape.start, shape.centre))
  const radial = mix(out, Math.cos(a), shape.direction, Math.sin(a))
  return { c: mix(shape.centre, 1, radial, shape.radius), x: radial, y: shape.normal }
}

/**
 * Least of `distanceTo` over the points of the tube's outside: a grid over every shape and both end discs, then the
 * grid again around the best places, finer each time. Never below the true distance.
 */
export function sampledDistance(tube: Swept, distanceTo: (p: Vec3) => number): number {
  let least = Infinity
  const r = tube.radius
  const last = tube.shapes.length - 1
  tube.shapes.forEach((shape, index) => {
    const side = (s: number, t: number) => {
      const { c, x, y } = section(shape, Math.min(Math.max(s, 0), 1))
      const ring = mix(x, Math.cos(t), y, Math.sin(t))
      return distanceTo(mix(c, 1, ring, r))
    }
    least = Math.min(least, zoom(side, [0, 1], [0, 2 * Math.PI], least))
    for (const end of [0, 1]) {
      if ((end === 0 && index !== 0) || (end === 1 && index !== last)) continue
      const { c, x, y } = section(shape, end)
      const disc = (s: number, t: number) => {
        const ring = mix(x, Math.cos(t), y, Math.sin(t))
        return distanceTo(mix(c, 1, ring, r * Math.min(Math.max(s, 0), 1)))
      }
      least = Math.min(least, zoom(disc, [0, 1], [0, 2 * Math.PI], least))
    }
  })
  return least
}

function zoom(
  f: (s: number, t: number) => number,
  [s0, s1]: [number, number],
  [t0, t1]: [number, number],
  known: number,
): number {
  const N = 24
  const seen: { s: number; t: number; d: number }[] = []
  for (let i = 0; i <= N; i++)
    for (let j = 0; j < N; j++) {
      const s = s0 + ((s1 - s0) * i) / N
      const t = t0 + ((t1 - t0) * j) / N
      seen.push({ s, t, d: f(s, t) })
    }
  seen.sort((a, b) => a.d - b.d)
  let least = seen[0]!.d
  if (least > known + 60) return least
  for (const start of seen.slice(0, 4)) {
    let { s, t, d } = start
    let ds = (s1 - s0) / N
    let dt = (t1 - t0) / N
    for (let round = 0; round < 60 && (ds > 1e-7 || dt > 1e-7); round++) {
      const before = d
      const [cs, ct] = [s, t]
      for (let i = -2; i <= 2; i++)
        for (let j = -2; j <= 2; j++) {
          const e = f(cs + (i * ds) / 2, ct + (j * dt) / 2)
          if (e < d) [s, t, d] = [cs + (i * ds) / 2, ct + (j * dt) / 2, e]
        }
      if (!(d < before)) {
        ds /= 2
        dt /= 2
      }
    }
    least = Math.min(least, d)
  }
  return least
}

/** Shapes of a random buildable tube, started at `origin`; end straights as told (mm), or ample. */
export function randomShapes(
  random: () => number,
  bends: number,
  origin: Vec3,
  clr: number,
  ends?: number,
): readonly Shape[] {
  const straight = () => clr * (0.5 + 3 * random())
  const direction = unit([random() - 0.5, random() - 0.5, random() - 0.5])
  const seed: Vec3 = Math.abs(direction[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]
  const points = rowsToPoints(
    {
      straights: Array.from({ length: bends + 1 }, (_, k) =>
        ends !== undefined && (k === 0 || k === bends) ? ends : straight(),
      ),
      bends: Array.from({ length: bends }, (_, k) => ({
        angle: 5 + 150 * random(),
        rotation: k === 0 ? null : 360 * random() - 180,
      })),
    },
    clr,
    { origin, direction, normal: unit(cross(direction, seed)) },
  )
  const solved = solveRoute(
    points,
    points.map((_, i) => `p${i}`),
    clr,
  )
  if (!solved.ok) throw new Error(solved.problem.message)
  return solved.route.pieces
}
