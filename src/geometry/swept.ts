import { type Chain, chainTree } from './chainTree.ts'
import { type Convex, supportOnly } from './convex.ts'
import {
  add,
  addScaled,
  cross,
  distance,
  dot,
  length,
  scale,
  sub,
  turnDirection,
  unit,
  type Vec3,
} from './vec3.ts'

/** A straight stretch of a centre line. `direction` (unit) is the curve's, also where start and end coincide. */
export interface LineShape {
  readonly kind: 'line'
  readonly start: Vec3
  readonly end: Vec3
  readonly direction: Vec3
}
/** A circular stretch: it leaves `start` along `direction` and turns right-handed about `normal`. */
export interface ArcShape {
  readonly kind: 'arc'
  readonly start: Vec3
  readonly centre: Vec3
  readonly radius: number
  readonly normal: Vec3
  readonly direction: Vec3
  /** 0 < angleRad < π; 0 in a part without length. */
  readonly angleRad: number
}
export type Shape = LineShape | ArcShape

/** A cross-section: centre and the unit direction square to it. */
export interface Section {
  readonly at: Vec3
  readonly way: Vec3
}

/**
 * A stretch of a shape, stood in for by a segment: every point of the stretch is within `slack` of its counterpart
 * on the segment, and the other way round. A line is its own segment with slack 0. An arc's segment is its chord
 * moved outwards by half its rise, which halves the slack. Halves are made when first asked for, and kept.
 */
export class Stretch {
  readonly ax: number
  readonly ay: number
  readonly az: number
  readonly bx: number
  readonly by: number
  readonly bz: number
  /** Middle of the segment, and how far the curve goes from it. */
  readonly mx: number
  readonly my: number
  readonly mz: number
  readonly reach: number
  private halves: readonly [Stretch, Stretch] | null = null
  private slice: Convex | null = null

  readonly shape: Shape
  /** Index of the shape in its swept curve. */
  readonly index: number
  /** Radians from the arc's start; 0 and 1 for a line. */
  readonly from: number
  readonly to: number
  readonly slack: number
  /** Total turn of the curve up to this stretch's start and end, radians. */
  readonly turnFrom: number
  readonly turnTo: number
  readonly radius: number
  /** Its shape comes so near a true end that balls around it would reach past the cut. */
  readonly nearCut: boolean

  constructor(made: {
    shape: Shape
    index: number
    from: number
    to: number
    turnBefore: number
    radius: number
    nearCut: boolean
  }) {
    const { shape, from, to } = made
    this.shape = shape
    this.index = made.index
    this.from = from
    this.to = to
    this.radius = made.radius
    this.nearCut = made.nearCut
    let a: Vec3
    let b: Vec3
    if (shape.kind === 'line') {
      a = shape.start
      b = shape.end
      this.slack = 0
      this.turnFrom = made.turnBefore
      this.turnTo = made.turnBefore
    } else {
      const rise = shape.radius * (1 - Math.cos((to - from) / 2))
      const middle = scale(sub(pointOnShape(shape, (from + to) / 2), shape.centre), rise / 2 / shape.radius)
      a = add(pointOnShape(shape, from), middle)
      b = add(pointOnShape(shape, to), middle)
      this.slack = rise / 2
      this.turnFrom = made.turnBefore + from
      this.turnTo = made.turnBefore + to
    }
    ;[this.ax, this.ay, this.az] = a
    ;[this.bx, this.by, this.bz] = b
    this.mx = (a[0] + b[0]) / 2
    this.my = (a[1] + b[1]) / 2
    this.mz = (a[2] + b[2]) / 2
    this.reach = distance(a, b) / 2 + this.slack
  }

  get a(): Vec3 {
    return [this.ax, this.ay, this.az]
  }
  get b(): Vec3 {
    return [this.bx, this.by, this.bz]
  }

  /** The rod along this stretch, cut flat at both ends, for its support: of an arc, the convex hull of its sections. */
  get flat(): Convex {
    if (!this.slice) {
      const { shape, from, to, radius } = this
      this.slice =
        shape.kind === 'arc'
          ? hullOfArc(shape, from, to, radius)
          : hullOfDiscs(sectionOnShape(shape, from), sectionOnShape(shape, to), radius)
    }
    return this.slice
  }

  /**
   * No place of `flat` is farther than this from the true rod, mm, which lies in it. Sections of a rod thicker than the bend's
   * radius cross at the axis: there the hull fills what is between them on either side, too.
   */
  get flatSlack(): number {
    const { shape, from, to, radius } = this
    if (shape.kind === 'line') return 0
    const angle = to - from
    const crossing = Math.max(radius - shape.radius, 0) * Math.sin(Math.min(angle, Math.PI / 2))
    return 2 * (shape.radius + radius) * (1 - Math.cos(angle / 2)) + crossing
  }

  /** The two halves of an arc's stretch. A line is exact and never halved. */
  split(): readonly [Stretch, Stretch] {
    if (this.halves) return this.halves
    const { shape, index, from, to, radius, nearCut } = this
    const turnBefore = this.turnFrom - from
    const middle = (from + to) / 2
    this.halves = [
      new Stretch({ shape, index, from, to: middle, turnBefore, radius, nearCut }),
      new Stretch({ shape, index, from: middle, to, turnBefore, radius, nearCut }),
    ]
    return this.halves
  }

  /** Point of the true curve that belongs to `u` on the segment. */
  pointAt(u: number): Vec3 {
    return pointOnShape(this.shape, this.from + u * (this.to - this.from))
  }
}

/** A round rod of `radius` swept along a smooth chain of lines and arcs, cut flat and square at its two true ends. */
export interface Swept {
  readonly radius: number
  readonly shapes: readonly Shape[]
  readonly stretches: readonly Stretch[]
  readonly chain: Chain<Stretch>
  /** Way along the centre line to each shape's start, mm; one more entry than shapes: the last is the whole. */
  readonly along: readonly number[]
  /** Total turn up to each shape's start, radians. */
  readonly turns: readonly number[]
  /** Which shape of the whole curve the first one is of: 0 unless this is a part. */
  readonly first: number
  /** Bounds of the outside, mm. */
  readonly low: Vec3
  readonly high: Vec3
}

/** Point at `t`: radians from an arc's start, or the share 0…1 of a line. */
export function pointOnShape(shape: Shape, t: number): Vec3 {
  if (shape.kind === 'line') return addScaled(shape.start, sub(shape.end, shape.start), t)
  return add(shape.centre, turnDirection(sub(shape.start, shape.centre), shape.normal, t))
}

/** Length of the shape, mm ≥ 0. */
export const lengthOf = (shape: Shape): number =>
  shape.kind === 'line' ? distance(shape.start, shape.end) : shape.radius * shape.angleRad

/** Parameter of the shape's point nearest to `p` (see `pointOnShape`). */
export function nearestParameter(shape: Shape, p: Vec3): number {
  if (shape.kind === 'line') {
    const along = sub(shape.end, shape.start)
    const l = dot(along, along)
    return l > 0 ? Math.min(Math.max(dot(sub(p, shape.start), along) / l, 0), 1) : 0
  }
  const r = sub(p, shape.centre)
  const out = scale(sub(shape.start, shape.centre), 1 / shape.radius)
  const angle = Math.atan2(dot(r, cross(shape.normal, out)), dot(r, out))
  if (angle >= 0 && angle <= shape.angleRad) return angle
  const a = distance(p, pointOnShape(shape, 0))
  return a <= distance(p, pointOnShape(shape, shape.angleRad)) ? 0 : shape.angleRad
}

/** Cross-section at `t` (see `pointOnShape`), its direction the way along the shape. */
export function sectionOnShape(shape: Shape, t: number): Section {
  const at = pointOnShape(shape, t)
  return { at, way: shape.kind === 'arc' ? turnDirection(shape.direction, shape.normal, t) : shape.direction }
}

/** Arcs begin as stretches of at most this, so that chord and arc correspond. Radians. */
const FIRST_STRETCH = Math.PI / 4

/**
 * Prepares a chain of shapes for distance questions. Both ends are cut flat, whatever shape ends there.
 *
 * @param radius mm; 0 leaves the centre line alone.
 * @param part of a longer curve: its turn before the first shape, radians, and which of its shapes that is.
 * @throws RangeError when there is no shape or the radius is below 0.
 */
export function sweep(
  shapes: readonly Shape[],
  radius: number,
  { turnBefore, first }: { readonly turnBefore: number; readonly first: number } = {
    turnBefore: 0,
    first: 0,
  },
): Swept {
  if (shapes.length === 0) throw new RangeError('sweep: found no shapes, wanted at least one')
  if (!(radius >= 0 && Number.isFinite(radius)))
    throw new RangeError(`sweep: found radius ${radius} mm, wanted ≥ 0`)
  const made: { shape: Shape; index: number; from: number; to: number; turnBefore: number }[] = []
  const along = [0]
  const turns: number[] = []
  let turn = turnBefore
  shapes.forEach((shape, index) => {
    turns.push(turn)
    along.push(along[index]! + lengthOf(shape))
    const parts = shape.kind === 'line' ? 1 : Math.max(1, Math.ceil(shape.angleRad / FIRST_STRETCH))
    const whole = shape.kind === 'line' ? 1 : shape.angleRad
    for (let k = 0; k < parts; k++)
      made.push({
        shape,
        index,
        from: (whole * k) / parts,
        to: (whole * (k + 1)) / parts,
        turnBefore: turn,
      })
    if (shape.kind === 'arc') turn += shape.angleRad
  })
  const [start, end] = endSections(shapes)
  const cuts = [start, { at: end.at, way: scale(end.way, -1) }]
  const nearCut = shapes.map((shape, k) =>
    k === 0 || k === shapes.length - 1 ? true : cuts.some(cut => reachesPast(shape, radius, cut)),
  )
  const stretches = made.map(m => new Stretch({ ...m, radius, nearCut: nearCut[m.index]! }))
  return {
    radius,
    shapes,
    stretches,
    chain: chainTree(stretches),
    along,
    turns,
    first,
    ...boundsOfStretches(stretches, radius),
  }
}

/** The two true ends, their directions along the curve. */
export function endSections(shapes: readonly Shape[]): readonly [Section, Section] {
  const last = shapes[shapes.length - 1]!
  return [sectionOnShape(shapes[0]!, 0), sectionOnShape(last, last.kind === 'arc' ? last.angleRad : 1)]
}

/**
 * Whether a ball around some place of a shape could reach what the cut takes off a round end: less than the radius behind the
 * end's middle, on the far side of its section (`way` points into the rod). A bend that comes round to its own end does so, too.
 */
function reachesPast(shape: Shape, radius: number, { at, way }: Section): boolean {
  const nearest = distance(pointOnShape(shape, nearestParameter(shape, at)), at)
  if (nearest >= 2 * radius) return false
  const [from, to] = endSections([shape])
  const off = (p: Vec3) => dot(way, sub(p, at))
  if (shape.kind === 'line') return Math.min(off(from.at), off(to.at)) < radius
  // How far an arc goes along a direction: from its middle by the part of the direction in its plane, at most.
  const inPlane = length(addScaled(way, shape.normal, -dot(way, shape.normal)))
  return off(shape.centre) - shape.radius * inPlane < radius
}

/** The place of a disc that is furthest along `n`. */
function onDisc({ at, way }: Section, n: Vec3, radius: number): Vec3 {
  const flat = addScaled(n, way, -dot(n, way))
  const out = unit(flat)
  // Square to the disc, every point of it is as far: the middle one keeps the search steady.
  if (!out || length(flat) <= 1e-12 * length(n)) return at
  return addScaled(at, unit(addScaled(out, way, -dot(out, way))) ?? out, radius)
}

/** The hull of two discs, for its support. */
function hullOfDiscs(a: Section, b: Section, radius: number): Convex {
  const support = (n: Vec3): Vec3 => {
    const [p, q] = [onDisc(a, n, radius), onDisc(b, n, radius)]
    return dot(n, p) >= dot(n, q) ? p : q
  }
  return supportOnly(support, a.at)
}

/**
 * The hull of an arc's sections, for its support. Along a direction with the share `a` in the arc's plane a section's rim reaches
 * R·a·cos u + r·√(1 − a²·sin² u), u its angle from that share: most at an end, at u = 0, or at u = π where the rod is thicker
 * than the bend's radius.
 */
function hullOfArc(shape: ArcShape, from: number, to: number, radius: number): Convex {
  const out = scale(sub(shape.start, shape.centre), 1 / shape.radius)
  const side = cross(shape.normal, out)
  const section = (t: number): Section => sectionOnShape(shape, t)
  const [first, last] = [section(from), section(to)]
  const support = (n: Vec3): Vec3 => {
    const along = Math.atan2(dot(n, side), dot(n, out))
    let best = onDisc(first, n, radius)
    const offer = (p: Vec3) => {
      if (dot(n, p) > dot(n, best)) best = p
    }
    offer(onDisc(last, n, radius))
    for (const t of [along, along + Math.PI, along - Math.PI, along + 2 * Math.PI])
      if (t > from && t < to) offer(onDisc(section(t), n, radius))
    return best
  }
  return supportOnly(support, first.at)
}

/** One cross-section of the rod as a convex shape, for its support. */
export const discAt = (shape: Shape, t: number, radius: number): Convex => {
  const section = sectionOnShape(shape, t)
  return hullOfDiscs(section, section, radius)
}

/** The point of a disc (`way` square to it, unit) that is nearest to `p`. */
export function nearestOnDisc(at: Vec3, way: Vec3, radius: number, p: Vec3): Vec3 {
  const from = sub(p, at)
  const across = addScaled(from, way, -dot(from, way))
  const rho = length(across)
  return rho > 0 ? addScaled(at, across, Math.min(1, radius / rho)) : at
}

/** A centre line's segment as a convex shape, for its support. */
export const coreOf = ({ a, b }: Stretch): Convex => supportOnly(n => (dot(n, a) >= dot(n, b) ? a : b), a)

/** How far a place of the rod is from the nearer true end, along the centre line, mm. */
export function fromEnd(swept: Swept, index: number, t: number): number {
  const shape = swept.shapes[index]!
  const at = swept.along[index]! + (shape.kind === 'arc' ? t * shape.radius : t * lengthOf(shape))
  return Math.min(at, swept.along[swept.shapes.length]! - at)
}

/** How far `thinned` can go, mm. */
export const mostThinned = (swept: Swept): number =>
  Math.min(swept.radius, swept.along[swept.shapes.length]! / 2)

/** The rod thinner by `by` mm all round and shorter by as much at both ends, at most `mostThinned`. */
export function thinned(swept: Swept, by: number): Swept {
  const whole = swept.along[swept.shapes.length]!
  const { shapes, turnBefore, first } = cutShapes(swept.shapes, by, whole - by)
  return sweep(shapes, Math.max(swept.radius - by, 0), {
    turnBefore: swept.turns[0]! + turnBefore,
    first: swept.first + first,
  })
}

/**
 * The part of a chain between two ways along it, mm: what is left of its shapes, which of them is the first, and the turn
 * before it, radians. At least one shape, without length when `from` and `to` are the same.
 */
export function cutShapes(
  shapes: readonly Shape[],
  from: number,
  to: number,
): { readonly shapes: readonly Shape[]; readonly turnBefore: number; readonly first: number } {
  const left: Shape[] = []
  let first = 0
  let turnBefore = 0
  let start = 0
  const last = shapes.length - 1
  shapes.forEach((shape, k) => {
    const size = lengthOf(shape)
    const p = Math.min(Math.max(from - start, 0), size)
    const q = Math.min(to - start, size)
    start += size
    if (left.length === 0 && shape.kind === 'arc') turnBefore += p / shape.radius
    if (q <= p && !(left.length === 0 && (k === last || from <= start))) return
    if (left.length === 0) first = k
    left.push(p === 0 && q === size ? shape : partOfShape(shape, p, Math.max(q, p)))
  })
  return { shapes: left, turnBefore, first }
}

/** From `p` to `q` mm along a shape. */
function partOfShape(shape: Shape, p: number, q: number): Shape {
  const size = lengthOf(shape)
  if (shape.kind === 'line') {
    const at = (s: number) => (size > 0 ? pointOnShape(shape, s / size) : shape.start)
    return { kind: 'line', start: at(p), end: at(q), direction: shape.direction }
  }
  const { at, way } = sectionOnShape(shape, p / shape.radius)
  return { ...shape, start: at, direction: way, angleRad: (q - p) / shape.radius }
}

function boundsOfStretches(stretches: readonly Stretch[], radius: number): { low: Vec3; high: Vec3 } {
  const low: [number, number, number] = [Infinity, Infinity, Infinity]
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  for (const s of stretches) {
    const grow = radius + s.slack
    for (const [k, a, b] of [
      [0, s.ax, s.bx],
      [1, s.ay, s.by],
      [2, s.az, s.bz],
    ] as const) {
      low[k] = Math.min(low[k], a - grow, b - grow)
      high[k] = Math.max(high[k], a + grow, b + grow)
    }
  }
  return { low, high }
}
