import { add, anySquareTo, cross, dot, scale, type Vec3 } from '../geometry/vec3.ts'
import { type ConvexSolid, inradius, signedDistanceTo, solidReach } from './convex.ts'
import type { Motion } from './motion.ts'

/** Lower bound, mm, of the clearance of a ball (centre at t = 0, radius) from a solid over the whole of a motion. */
export type BallBound = (x: number, y: number, z: number, radius: number) => number

/** Directions about an axis in which a solid's least distance from it is sought. */
const ROUND = 16

/** What a solid reaches along an axis and off it, mm. */
interface Ring {
  readonly low: number
  readonly high: number
  readonly inner: number
  readonly outer: number
}

const rings = new WeakMap<ConvexSolid, { origin: Vec3; axis: Vec3; ring: Ring }[]>()

/**
 * A quick bound for balls: what a ball sweeps is taken as a ring about the axis of a turn, or as a ball drawn out along
 * a shift, and the solid as the ring or the box about it.
 */
export function ballBound(motion: Motion, solid: ConvexSolid): BallBound {
  const deepest = 0 - inradius(solid)
  /** A ball's bound from that of its centre: how near a point comes changes by no more than the point is moved. */
  const off = (centre: number, radius: number) => Math.max(deepest, centre > 0 ? centre - radius : deepest)
  switch (motion.kind) {
    case 'still':
      return (x, y, z, radius) => Math.max(deepest, signedDistanceTo(solid, x, y, z) - radius)
    case 'shift': {
      const { along } = motion
      const {
        u,
        v,
        spans: [a, b, c],
      } = roomOf(solid, along)
      const shortest = Math.min(motion.from, motion.to)
      const longest = Math.max(motion.from, motion.to)
      return (x, y, z, radius) => {
        const s = along[0] * x + along[1] * y + along[2] * z
        const p = gapTo(a, s + shortest, s + longest)
        const t = u[0] * x + u[1] * y + u[2] * z
        const q = gapTo(b, t, t)
        const w = v[0] * x + v[1] * y + v[2] * z
        const r = gapTo(c, w, w)
        return off(Math.sqrt(p * p + q * q + r * r), radius)
      }
    }
    case 'turn': {
      const { origin, axis } = motion
      const ring = ringOf(solid, origin, axis)
      return (x, y, z, radius) => {
        const [dx, dy, dz] = [x - origin[0], y - origin[1], z - origin[2]]
        const h = dx * axis[0] + dy * axis[1] + dz * axis[2]
        const rho = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - h * h))
        return off(ringGap(ring, h, rho, rho), radius)
      }
    }
    case 'drawn': {
      const { origin, feed } = motion
      const ring = ringOf(solid, origin, [0, 0, 1])
      return (x, y, z, radius) => {
        // Fed along x while it is turned about the die: its distance from the axis is that of a point on the way.
        const [from, to] = [x + feed * motion.from - origin[0], x + feed * motion.to - origin[0]]
        const dy = y - origin[1]
        const least = from * to <= 0 ? Math.abs(dy) : Math.hypot(Math.min(Math.abs(from), Math.abs(to)), dy)
        const most = Math.hypot(Math.max(Math.abs(from), Math.abs(to)), dy)
        return off(ringGap(ring, z - origin[2], least, most), radius)
      }
    }
  }
}

type Span = readonly [number, number]
const spanOf = (solid: ConvexSolid, axis: Vec3): Span => [
  0 - solidReach(solid, [-axis[0], -axis[1], -axis[2]]),
  solidReach(solid, axis),
]
const gapTo = ([low, high]: Span, from: number, to: number): number =>
  from > high ? from - high : to < low ? low - to : 0

/** What a solid reaches along a way and square to it, mm. */
interface Room {
  readonly along: Vec3
  readonly u: Vec3
  readonly v: Vec3
  readonly spans: readonly [Span, Span, Span]
}
const rooms = new WeakMap<ConvexSolid, Room[]>()
function roomOf(solid: ConvexSolid, along: Vec3): Room {
  const found = rooms.get(solid) ?? []
  const known = found.find(r => r.along === along)
  if (known !== undefined) return known
  const u = anySquareTo(along)
  const v = cross(along, u)
  const room: Room = { along, u, v, spans: [spanOf(solid, along), spanOf(solid, u), spanOf(solid, v)] }
  // Ways that are made anew each time are not worth keeping.
  if (found.length < 8) rooms.set(solid, [...found, room])
  return room
}

function ringGap({ low, high, inner, outer }: Ring, h: number, least: number, most: number): number {
  const along = h > high ? h - high : h < low ? low - h : 0
  const across = least > outer ? least - outer : most < inner ? inner - most : 0
  return along === 0 ? across : across === 0 ? along : Math.sqrt(along * along + across * across)
}

function ringOf(solid: ConvexSolid, origin: Vec3, axis: Vec3): Ring {
  const found = rings.get(solid) ?? []
  const same = (a: Vec3, b: Vec3) => a[0] === b[0] && a[1] === b[1] && a[2] === b[2]
  const known = found.find(r => same(r.origin, origin) && same(r.axis, axis))
  if (known !== undefined) return known.ring
  const u = anySquareTo(axis)
  const v = cross(axis, u)
  const [low, high] = spanOf(solid, axis)
  const h = dot(origin, axis)
  let inner = 0
  let outer = 0
  for (let k = 0; k < ROUND; k++) {
    const a = (2 * Math.PI * k) / ROUND
    const d = add(scale(u, Math.cos(a)), scale(v, Math.sin(a)))
    const most = solidReach(solid, d) - dot(d, origin)
    outer = Math.max(outer, most)
    // All of the solid lies beyond this along −d, and so no nearer to the axis.
    inner = Math.max(inner, 0 - most)
  }
  // Between two of the directions it may reach a little farther than along either.
  const ring = { low: low - h, high: high - h, inner, outer: outer / Math.cos(Math.PI / ROUND) }
  found.push({ origin, axis, ring })
  rings.set(solid, found)
  return ring
}
