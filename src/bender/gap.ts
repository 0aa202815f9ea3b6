import { dot, length, type Vec3 } from '../geometry/vec3.ts'
import {
  type ConvexBox,
  type ConvexSolid,
  eroded,
  inradius,
  type Rod,
  rodNearest,
  signedDistance,
} from './convex.ts'

/**
 * Gap between two convex shapes: `lower` ≤ true ≤ `upper`; `away` points from solid to rod and shows `lower` by
 * its plane (unit length when apart, at most that in contact).
 */
export interface Gap {
  readonly lower: number
  readonly upper: number
  readonly away: Vec3
}

/** How near `lower` and `upper` are brought, mm: a hundredth of what the sweep may be off. */
const GAP_MM = 2e-4
const MAX_ROUNDS = 80
/** Nearer than this they touch, mm. */
const TOUCH = 1e-9

type Point = [number, number, number]

function farthestOfSolid(solid: ConvexSolid, a: Vec3): Point {
  const p: Point = [...solid.centre]
  if (solid.shape === 'box') {
    for (let i = 0; i < 3; i++) {
      const axis = solid.axes[i]!
      const s = dot(a, axis) < 0 ? -solid.half[i]! : solid.half[i]!
      p[0] += axis[0] * s
      p[1] += axis[1] * s
      p[2] += axis[2] * s
    }
    return p
  }
  const { axis, halfLength, radius } = solid
  addDisc(p, axis, a, radius, dot(a, axis) < 0 ? -halfLength : halfLength)
  return p
}

/** Moves `p` by `shift` along `axis` and to the rim of a disc square to it, as far as it goes along `a`. */
function addDisc(p: Point, axis: Vec3, a: Vec3, radius: number, shift: number): void {
  const along = dot(a, axis)
  const sx = a[0] - axis[0] * along
  const sy = a[1] - axis[1] * along
  const sz = a[2] - axis[2] * along
  const l = Math.sqrt(sx * sx + sy * sy + sz * sz)
  // Nearly square to the disc the rest is rounding and may point along the axis, out of the disc.
  const k = l > 1e-7 * Math.abs(along) && l > 0 ? radius / l : 0
  p[0] += axis[0] * shift + sx * k
  p[1] += axis[1] * shift + sy * k
  p[2] += axis[2] * shift + sz * k
}

function farthestOfRod(rod: Rod, a: Vec3, withDiscs: boolean): Point {
  const end = dot(a, rod.to) > dot(a, rod.from) ? rod.to : rod.from
  const p: Point = [end[0], end[1], end[2]]
  if (!withDiscs) return p
  const d: Vec3 = [rod.to[0] - rod.from[0], rod.to[1] - rod.from[1], rod.to[2] - rod.from[2]]
  const l = length(d)
  if (l > 0) addDisc(p, [d[0] / l, d[1] / l, d[2] / l], a, rod.radius, 0)
  return p
}

/**
 * Distance between the rod (its centre segment, or the flat-ended solid rod) and the solid by descent on their
 * difference (Gilbert, Johnson, Keerthi 1988): every round's supporting plane is a proof of `lower`.
 */
function descend(rod: Rod, solid: ConvexSolid, withDiscs: boolean): Gap {
  let v: Point = [
    (rod.from[0] + rod.to[0]) / 2 - solid.centre[0],
    (rod.from[1] + rod.to[1]) / 2 - solid.centre[1],
    (rod.from[2] + rod.to[2]) / 2 - solid.centre[2],
  ]
  if (dot(v, v) === 0) v = [1, 0, 0]
  let simplex: Point[] = []
  let lower = 0
  let upper = Number.POSITIVE_INFINITY
  let away: Vec3 = [0, 0, 1]
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const l = length(v)
    const back: Vec3 = [-v[0], -v[1], -v[2]]
    const p = farthestOfRod(rod, back, withDiscs)
    const q = farthestOfSolid(solid, v)
    const w: Point = [p[0] - q[0], p[1] - q[1], p[2] - q[2]]
    const shown = dot(v, w) / l
    if (shown > lower) {
      lower = shown
      away = [v[0] / l, v[1] / l, v[2] / l]
    }
    if (upper - lower <= GAP_MM) break
    const next = nearestToOrigin([...simplex, w])
    const nl = length(next.point)
    // A plane between the two is a proof; a sliver that seems to hold the origin all the same is rounding.
    if (next.inside && lower > TOUCH) break
    if (nl < TOUCH || next.inside) return { lower: 0, upper: 0, away }
    // No progress: the last digits of a double are reached.
    if (nl >= upper) break
    upper = nl
    v = next.point
    simplex = next.kept
  }
  return { lower, upper: Math.max(upper, lower), away }
}

interface Nearest {
  readonly point: Point
  readonly kept: Point[]
  readonly inside: boolean
}

function nearestToOrigin(s: Point[]): Nearest {
  const [a, b, c, d] = s
  if (b === undefined) return { point: a!, kept: s, inside: false }
  if (c === undefined) return onSegment(a!, b)
  if (d === undefined) return onTriangle(a!, b, c)
  let best: Nearest | null = null
  for (const [p, q, r] of [
    [a!, b, d],
    [a!, c, d],
    [b, c, d],
    [a!, b, c],
  ] as const) {
    const n = onTriangle(p, q, r)
    if (best === null || dot(n.point, n.point) < dot(best.point, best.point)) best = n
  }
  return inTetrahedron(a!, b, c, d) ? { point: [0, 0, 0], kept: s, inside: true } : best!
}

const minus = (a: Vec3, b: Vec3): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const mixed = (a: Vec3, b: Vec3, c: Vec3): number =>
  a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])

function inTetrahedron(a: Point, b: Point, c: Point, d: Point): boolean {
  const volume = mixed(minus(b, a), minus(c, a), minus(d, a))
  if (Math.abs(volume) < 1e-12) return false
  const parts = [mixed(b, c, d), -mixed(a, c, d), mixed(a, b, d), -mixed(a, b, c)]
  return parts.every(p => p / volume >= 0)
}

function onSegment(a: Point, b: Point): Nearest {
  const ab = minus(b, a)
  const t = -dot(a, ab)
  const bb = dot(ab, ab)
  if (t <= 0 || bb === 0) return { point: a, kept: [a], inside: false }
  if (t >= bb) return { point: b, kept: [b], inside: false }
  const k = t / bb
  return {
    point: [a[0] + ab[0] * k, a[1] + ab[1] * k, a[2] + ab[2] * k],
    kept: [a, b],
    inside: false,
  }
}

function onTriangle(a: Point, b: Point, c: Point): Nearest {
  const ab = minus(b, a)
  const ac = minus(c, a)
  const n: Point = [
    ab[1] * ac[2] - ab[2] * ac[1],
    ab[2] * ac[0] - ab[0] * ac[2],
    ab[0] * ac[1] - ab[1] * ac[0],
  ]
  const nn = dot(n, n)
  if (nn > 1e-20 * dot(ab, ab) * dot(ac, ac)) {
    const u = mixed(n, b, c)
    const v = mixed(n, c, a)
    const w = mixed(n, a, b)
    if (u > 0 && v > 0 && w > 0) {
      // Weights, not a projection along n: of a sliver n is mostly rounding, and the point must stay in the hull.
      const sum = u + v + w
      const mean = (i: 0 | 1 | 2) => (a[i] * u + b[i] * v + c[i] * w) / sum
      return { point: [mean(0), mean(1), mean(2)], kept: [a, b, c], inside: false }
    }
  }
  let best = onSegment(a, b)
  for (const side of [onSegment(b, c), onSegment(a, c)])
    if (dot(side.point, side.point) < dot(best.point, best.point)) best = side
  return best
}

/**
 * The clearance where one face of a box decides it: the rod's point farthest out through that face (or, in contact, the
 * one deepest under it) lies over (or under) the face and no other face is nearer. Null where edges or corners decide.
 */
function byFace(rod: Rod, box: ConvexBox): Gap | null {
  let least = Number.NEGATIVE_INFINITY
  let away: Vec3 = box.axes[2]
  for (let i = 0; i < 3; i++) {
    const axis = box.axes[i]!
    const centre = dot(axis, box.centre) + box.half[i]!
    const back: Vec3 = [-axis[0], -axis[1], -axis[2]]
    const out = rodNearest(rod, axis) - centre
    const other = rodNearest(rod, back) + centre - 2 * box.half[i]!
    if (out > least) {
      least = out
      away = axis
    }
    if (other > least) {
      least = other
      away = back
    }
  }
  // The point of the rod that comes nearest to that face.
  const back: Vec3 = [-away[0], -away[1], -away[2]]
  const p = farthestOfRod(rod, back, rod.flat)
  if (!rod.flat) {
    p[0] += back[0] * rod.radius
    p[1] += back[1] * rod.radius
    p[2] += back[2] * rod.radius
  }
  for (let i = 0; i < 3; i++) {
    const axis = box.axes[i]!
    const along = dot(axis, away)
    if (along > 0.5 || along < -0.5) continue
    const off = dot(axis, p) - dot(axis, box.centre)
    // In contact the other faces must lie no nearer to the point than this one.
    if (Math.abs(off) > box.half[i]! + Math.min(0, least)) return null
  }
  // Deeper than half the box is thick the face behind is nearer.
  if (least < 0 && 0 - least > inradius(box)) return null
  return { lower: least, upper: least, away }
}

/** Distance ≥ 0 between rod and solid; 0 when they meet. */
function apart(rod: Rod, solid: ConvexSolid): Gap {
  const core = descend(rod, solid, false)
  const beyondEnd = rod.flat && core.upper > 0 && Math.abs(dot(core.away, minus(rod.to, rod.from))) > 1e-9
  if (rod.flat && (beyondEnd || core.upper === 0)) return descend(rod, solid, true)
  return {
    lower: Math.max(0, core.lower - rod.radius),
    upper: Math.max(0, core.upper - rod.radius),
    away: core.away,
  }
}

/**
 * Clearance of a rod from a solid, mm: the distance between outsides, or, negative, how deep the deepest point
 * of the rod lies under the solid's surface (at most the inradius). `lower` ≤ true ≤ `upper`, 1e-3 mm apart at
 * most. Depth is the least erosion of the solid that the rod no longer meets; erosion by d moves corners by no
 * more than √3·d, which bounds each step.
 */
export function clearance(rod: Rod, solid: ConvexSolid): Gap {
  const plain = solid.shape === 'box' ? byFace(rod, solid) : null
  if (plain !== null) return plain
  const gap = apart(rod, solid)
  if (gap.upper > 0) return gap
  const mid: Vec3 = [
    (rod.from[0] + rod.to[0]) / 2,
    (rod.from[1] + rod.to[1]) / 2,
    (rod.from[2] + rod.to[2]) / 2,
  ]
  const reach = length(minus(rod.to, rod.from)) / 2 + rod.radius
  let free = Math.min(inradius(solid), reach - signedDistance(solid, mid))
  let meets = 0
  let away = gap.away
  for (let round = 0; round < 60 && free - meets > GAP_MM; round++) {
    const g = apart(rod, eroded(solid, free))
    if (g.upper === 0) {
      meets = free
      break
    }
    away = g.away
    // The gap opens by 1 to √3 times the erosion: both ways that bounds where it closes.
    meets = Math.max(meets, free - g.upper)
    free = Math.max(meets, free - g.lower / Math.sqrt(3))
  }
  return { lower: -free - GAP_MM, upper: Math.min(0, -meets), away: facing(solid, away) }
}

/**
 * Inside the solid the depth is the largest of its faces' plane distances, so every weighted mean of faces bounds
 * it from below: `a` scaled until its weights (its parts along the faces' normals) sum to one.
 */
function facing(solid: ConvexSolid, a: Vec3): Vec3 {
  let sum: number
  if (solid.shape === 'box') sum = solid.axes.reduce((s, axis) => s + Math.abs(dot(a, axis)), 0)
  else {
    const along = dot(a, solid.axis)
    sum = Math.abs(along) + Math.sqrt(Math.max(0, dot(a, a) - along * along))
  }
  return [a[0] / sum, a[1] / sum, a[2] / sum]
}
