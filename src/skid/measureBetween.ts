import type { SkidDocument } from '../document/types.ts'
import { convexGap } from '../geometry/convexGap.ts'
import { nearestOnSegments } from '../geometry/segments.ts'
import { sweptConvexGap } from '../geometry/sweptConvexGap.ts'
import { ROUNDING, sweptGap } from '../geometry/sweptGap.ts'
import { sweptPointGap } from '../geometry/sweptPointGap.ts'
import { addScaled, cross, DEG, distance, dot, length, lerp, sub, type Vec3 } from '../geometry/vec3.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type Measurable, measurableOf, type Thing, thin } from './measurable.ts'
import { meshToMesh, type Near, nearestOf, toMesh } from './measureToMesh.ts'
import { partGap } from './partGap.ts'
import { type MeshBody, type Part, runKey, type TubePart } from './parts.ts'

/** Two things measured against each other. Lengths mm, angles degrees. */
export interface Measured {
  readonly a: string
  readonly b: string
  /**
   * Least distance; negative where they overlap: minus the depth, as `Gap` has it for tubes, between solids minus a
   * shift that frees them, between a solid and a model minus how deep the model's surface reaches into the solid. A
   * solid wholly inside a closed part: minus the way out past the nearest place of its surface.
   */
  readonly gap: number
  /** Set between two models that overlap: `gap` is 0 then, how deep is not worked out. */
  readonly overlapping?: true
  /** The true distance is no further than this from `gap`. */
  readonly errorBound: number
  /** The nearest places. */
  readonly from: Vec3
  readonly to: Vec3
  /** `to` − `from`. */
  readonly delta: Vec3
  /** Of the way from `from` to `to` against the level, −90 … 90; null when it has no length. */
  readonly toLevel: number | null
  /** Between two lines, two faces, or a line and a face, 0 … 90; null for anything else. */
  readonly angle: number | null
  /** Of two straights taken on for ever; null for anything else. */
  readonly perpendicular: Perpendicular | null
}

export interface Perpendicular {
  readonly distance: number
  /** Its feet; null for parallel lines, which have it everywhere. */
  readonly feet: readonly [Vec3, Vec3] | null
  /** True when both feet lie on the straights themselves. */
  readonly within: boolean
}

/** Lines are parallel below this sine: the feet would be further off than any skid. */
const PARALLEL = 1e-9

/**
 * Least distance between two things of the document, and what else there is to say of the two.
 *
 * @returns the figures, or why there are none.
 */
export function measureBetween(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  first: Thing,
  second: Thing,
  meshes: readonly MeshBody[] = [],
): Measured | { readonly refused: string } {
  try {
    if (JSON.stringify(first) === JSON.stringify(second) && first.kind !== 'tube')
      throw new RangeError('these are the same thing twice')
    const a = measurableOf(document, solved, meshes, first)
    const b = measurableOf(document, solved, meshes, second)
    const near = nearest(first, second, a, b)
    const delta = sub(near.to, near.from)
    const level = Math.hypot(delta[0], delta[1])
    return {
      a: a.name,
      b: b.name,
      ...near,
      delta,
      toLevel: length(delta) > ROUNDING ? Math.atan2(delta[2], level) / DEG : null,
      angle: angleBetween(a, b),
      perpendicular:
        a.shape.kind === 'segment' && b.shape.kind === 'segment'
          ? commonPerpendicular(a.shape, b.shape)
          : null,
    }
  } catch (error) {
    if (error instanceof RangeError) return { refused: error.message }
    throw error
  }
}

const turned = ({ from, to, ...rest }: Near): Near => ({ ...rest, from: to, to: from })

/** The clearance check's own functions wherever they apply, so that both say the same. */
function nearest(first: Thing, second: Thing, a: Measurable, b: Measurable): Near {
  const [s, t] = [a.shape, b.shape]
  if (s.kind === 'tube') return fromTube(a.name, s.part, first, second, b)
  if (t.kind === 'tube') return turned(fromTube(b.name, t.part, second, first, a))
  if (s.kind === 'mesh' && t.kind === 'mesh') return meshToMesh(a.name, s.bodies, b.name, t.bodies)
  if (t.kind === 'mesh') return toMesh(s, t.bodies)
  if (s.kind === 'mesh') return turned(toMesh(t, s.bodies))
  if (s.kind === 'swept' && t.kind === 'swept') {
    // The clearance index takes the two in the order of their keys: the other way round the last digit may differ.
    if ('run' in first && 'run' in second && runKey(second.run) < runKey(first.run))
      return turned(twoSwept(t, s))
    return twoSwept(s, t)
  }
  if (s.kind === 'swept') return fromSwept(s, b)
  if (t.kind === 'swept') return turned(fromSwept(t, a))
  if (s.kind === 'segment' && t.kind === 'segment') return segments(s, t)
  if (s.kind === 'point') return fromPoint(s, b)
  if (t.kind === 'point') return turned(fromPoint(t, a))
  const { pointA, pointB, ...rest } = convexGap(thin(s)!, thin(t)!)
  return { ...rest, from: pointA, to: pointB }
}

type SweptShape = Extract<Measurable['shape'], { kind: 'swept' }>
type PointShape = Extract<Measurable['shape'], { kind: 'point' }>
type SegmentShape = Extract<Measurable['shape'], { kind: 'segment' }>

function twoSwept(s: SweptShape, t: SweptShape): Near {
  const grown = s.grown + t.grown
  const gap = sweptGap(s.swept, t.swept, Infinity)!
  return { gap: gap.gap + grown, errorBound: gap.errorBound + 2 * grown, from: gap.pointA, to: gap.pointB }
}

/** A run's outside: to a run, a solid or a model as the clearance check has it, stubs at its ports left out. */
function fromTube(name: string, tube: TubePart, first: Thing, second: Thing, to: Measurable): Near {
  const { shape, body } = to
  const isSame = JSON.stringify(first) === JSON.stringify(second)
  const others: readonly Part[] =
    shape.kind === 'tube'
      ? [isSame ? tube : shape.part]
      : shape.kind === 'mesh'
        ? shape.bodies
        : body
          ? [body]
          : []
  const found = others.flatMap(other => {
    const gap = partGap(tube, other, Infinity)
    return gap ? [{ gap: gap.gap, errorBound: gap.errorBound, from: gap.pointA, to: gap.pointB }] : []
  })
  const rest = others.length > 0 ? [] : tube.rods.map(swept => toRest({ kind: 'swept', swept, grown: 0 }, to))
  const best = nearestOf([...found, ...rest])
  if (best) return best
  throw new RangeError(
    isSame
      ? `${name} never turns back on itself, so it cannot come near itself`
      : `${name} is all within its ports, so nothing of it is measured to ${to.name}`,
  )
}

const toRest = (rod: SweptShape, to: Measurable): Near =>
  to.shape.kind === 'swept' ? twoSwept(rod, to.shape) : fromSwept(rod, to)

function fromSwept({ swept, grown }: SweptShape, to: Measurable): Near {
  const { shape } = to
  if (shape.kind === 'point' && shape.radius === 0) {
    const { gap, errorBound, pointA } = sweptPointGap(swept, shape.at)
    return { gap: gap + grown, errorBound: errorBound + 2 * grown, from: pointA, to: shape.at }
  }
  const found = sweptConvexGap(swept, thin(shape)!, Infinity)
  if (!found) throw new RangeError(`${to.name} has no distance`)
  return {
    gap: found.gap + grown,
    errorBound: found.errorBound + 2 * grown,
    from: found.pointA,
    to: found.pointB,
  }
}

/** The ball's point nearest to `p` on the other's outside; its deepest when its middle lies within the other. */
function onBall({ at, radius }: PointShape, p: Vec3, isInside = false): Vec3 {
  const apart = distance(at, p)
  return apart > 0 ? lerp(at, p, ((isInside ? -1 : 1) * radius) / apart) : at
}

function fromPoint(s: PointShape, to: Measurable): Near {
  const { shape } = to
  if (shape.kind === 'point') {
    const gap = distance(s.at, shape.at) - s.radius - shape.radius
    return { gap, errorBound: ROUNDING, from: onBall(s, shape.at), to: onBall(shape, s.at) }
  }
  if (shape.kind === 'segment') {
    const foot = onSegment(shape, s.at)
    return { gap: distance(foot, s.at) - s.radius, errorBound: ROUNDING, from: onBall(s, foot), to: foot }
  }
  const { value, gradient } = thin(shape)!.signedDistance(s.at)
  const foot = addScaled(s.at, gradient, -value)
  return { gap: value - s.radius, errorBound: ROUNDING, from: onBall(s, foot, value < 0), to: foot }
}

function onSegment({ a, b }: SegmentShape, p: Vec3): Vec3 {
  const along = sub(b, a)
  const l = dot(along, along)
  return l > 0 ? addScaled(a, along, Math.min(1, Math.max(0, dot(sub(p, a), along) / l))) : a
}

const ends = ({ a, b }: SegmentShape) => ({
  ax: a[0],
  ay: a[1],
  az: a[2],
  bx: b[0],
  by: b[1],
  bz: b[2],
})

function segments(s: SegmentShape, t: SegmentShape): Near {
  const pair = { u: 0, v: 0, distance: 0 }
  nearestOnSegments(ends(s), ends(t), pair)
  return {
    gap: pair.distance,
    errorBound: ROUNDING,
    from: lerp(s.a, s.b, pair.u),
    to: lerp(t.a, t.b, pair.v),
  }
}

/** Acute, degrees: lines by their directions, faces by their normals, a line and a face by what is left to 90°. */
function angleBetween(a: Measurable, b: Measurable): number | null {
  if (!a.direction || !b.direction) return null
  const [p, q] = [a.direction.way, b.direction.way]
  const between = Math.atan2(length(cross(p, q)), Math.abs(dot(p, q))) / DEG
  return a.direction.of === b.direction.of ? between : 90 - between
}

/** The shortest way between the two lines that the segments lie on. */
function commonPerpendicular(s: SegmentShape, t: SegmentShape): Perpendicular {
  const [d, e] = [s.direction, t.direction]
  const apart = sub(t.a, s.a)
  const n = cross(d, e)
  const sine = dot(n, n)
  if (sine <= PARALLEL * PARALLEL)
    return { distance: length(addScaled(apart, d, -dot(apart, d))), feet: null, within: false }
  const u = dot(cross(apart, e), n) / sine
  const v = dot(cross(apart, d), n) / sine
  const on = (way: number, { a, b, direction }: SegmentShape) => {
    const long = dot(sub(b, a), direction)
    return way >= Math.min(0, long) - ROUNDING && way <= Math.max(0, long) + ROUNDING
  }
  return {
    distance: Math.abs(dot(apart, n)) / Math.sqrt(sine),
    feet: [addScaled(s.a, d, u), addScaled(t.a, e, v)],
    within: on(u, s) && on(v, t),
  }
}
