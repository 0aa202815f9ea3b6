import { type Chain, chainTree } from './chainTree.ts'
import { type Convex, cylinderBetween } from './convex.ts'
import { add, addScaled, cross, distance, dot, scale, sub, turnDirection, type Vec3 } from './vec3.ts'

/** A straight stretch of a centre line. `direction` (unit) stands in where start and end coincide. */
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
  /** 0 < angleRad < π. */
  readonly angleRad: number
}
export type Shape = LineShape | ArcShape

/** A flat end of a swept shape: where the outside stops and which way out of the material is. */
export interface FlatEnd {
  readonly outward: Vec3
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
  readonly flatStart: FlatEnd | null
  readonly flatEnd: FlatEnd | null
  /** The flat-ended solid of the whole shape when it has a flat end; else null. */
  readonly solid: Convex | null

  constructor(made: {
    shape: Shape
    index: number
    from: number
    to: number
    turnBefore: number
    flatStart?: FlatEnd | null
    flatEnd?: FlatEnd | null
    solid?: Convex | null
  }) {
    const { shape, from, to } = made
    this.shape = shape
    this.index = made.index
    this.from = from
    this.to = to
    this.flatStart = made.flatStart ?? null
    this.flatEnd = made.flatEnd ?? null
    this.solid = made.solid ?? null
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

  /** The two halves of an arc's stretch. A line is exact and never halved. */
  split(): readonly [Stretch, Stretch] {
    if (this.halves) return this.halves
    const { shape, index, from, to } = this
    const turnBefore = this.turnFrom - from
    const middle = (from + to) / 2
    this.halves = [
      new Stretch({ shape, index, from, to: middle, turnBefore }),
      new Stretch({ shape, index, from: middle, to, turnBefore }),
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
const lengthOf = (shape: Shape): number =>
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

/** Arcs begin as stretches of at most this, so that chord and arc correspond. Radians. */
const FIRST_STRETCH = Math.PI / 4

/**
 * Prepares a chain of shapes for distance questions.
 *
 * The ends of the first and last shape are cut flat when those shapes are lines; an end on an arc is taken as
 * rounded (a pipe with no straight at its end: pessimistic by up to the radius, which the answer's bound then says).
 *
 * @throws RangeError when there is no shape or the radius is not above 0.
 */
export function sweep(shapes: readonly Shape[], radius: number): Swept {
  if (shapes.length === 0) throw new RangeError('sweep: found no shapes, wanted at least one')
  if (!(radius > 0 && Number.isFinite(radius)))
    throw new RangeError(`sweep: found radius ${radius} mm, wanted > 0`)
  const stretches: Stretch[] = []
  const along = [0]
  const turns: number[] = []
  let turnBefore = 0
  const last = shapes.length - 1
  shapes.forEach((shape, index) => {
    turns.push(turnBefore)
    along.push(along[index]! + lengthOf(shape))
    if (shape.kind === 'line') {
      const l = lengthOf(shape)
      const direction = l > 1e-12 ? scale(sub(shape.end, shape.start), 1 / l) : shape.direction
      stretches.push(
        new Stretch({
          shape,
          index,
          from: 0,
          to: 1,
          turnBefore,
          flatStart: index === 0 ? { outward: scale(direction, -1) } : null,
          flatEnd: index === last ? { outward: direction } : null,
          solid:
            index === 0 || index === last ? cylinderBetween(shape.start, shape.end, radius, direction) : null,
        }),
      )
      return
    }
    const parts = Math.max(1, Math.ceil(shape.angleRad / FIRST_STRETCH))
    for (let k = 0; k < parts; k++)
      stretches.push(
        new Stretch({
          shape,
          index,
          from: (shape.angleRad * k) / parts,
          to: (shape.angleRad * (k + 1)) / parts,
          turnBefore,
        }),
      )
    turnBefore += shape.angleRad
  })
  return {
    radius,
    shapes,
    stretches,
    chain: chainTree(stretches),
    along,
    turns,
    ...boundsOfStretches(stretches, radius),
  }
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

/**
 * How much too near an answer at `t` of a shape may be, mm: the rounded end of an arc's stretch reaches past a cut
 * end that follows it within less than the radius. 0 for every end with a straight of at least the radius.
 */
export function overhangAt(swept: Swept, index: number, t: number): number {
  const shape = swept.shapes[index]!
  if (shape.kind === 'line' && (index === 0 || index === swept.shapes.length - 1)) return 0
  const at = swept.along[index]! + (shape.kind === 'arc' ? t * shape.radius : t * lengthOf(shape))
  return Math.min(at, swept.along[swept.shapes.length]! - at) < swept.radius ? swept.radius : 0
}
