import { type Bounds, boundsMeet } from '../geometry/boxTree.ts'
import type { Convex } from '../geometry/convex.ts'
import { convexMeshGap } from '../geometry/convexMeshGap.ts'
import { isInside } from '../geometry/insideMesh.ts'
import { pointInMesh } from '../geometry/meshInMesh.ts'
import { meshMeshGap, type RigidMap } from '../geometry/meshMeshGap.ts'
import { ROUNDING } from '../geometry/sweptGap.ts'
import { boundsOfTree, type TriangleTree } from '../geometry/triangleTree.ts'
import { dot, scale, sub, unit, type Vec3 } from '../geometry/vec3.ts'
import { type Measurable, thin } from './measurable.ts'
import type { PlacedBody } from './models/placedBody.ts'
import { convexToModel } from './models/placedConvex.ts'
import { samePlacement } from './models/placement.ts'
import { tubePlacedMeshGap } from './tubeMeshGap.ts'

export interface Near {
  readonly gap: number
  readonly errorBound: number
  /** Set when the two overlap and `gap` does not say how deep. */
  readonly overlapping?: true
  /** The nearest places. */
  readonly from: Vec3
  readonly to: Vec3
}

/** No search leaves more than this open, mm: a body farther off by more than that is certainly not the nearest. */
const SLACK = 0.02

/**
 * The nearest of several answers, whose bound covers the others: one that is a bit farther off by its figure may be the
 * nearest by what its search left open.
 */
export function nearestOf(found: readonly Near[]): Near | null {
  const [first] = found
  if (!first) return null
  const best = found.reduce((a, b) => (b.gap < a.gap ? b : a))
  const certain = Math.min(...found.map(n => n.gap - n.errorBound))
  return { ...best, errorBound: Math.max(best.errorBound, best.gap - certain) }
}

type NotTube = Exclude<Measurable['shape'], { kind: 'tube' }>

/** Least distance from a thing that is no model to bodies, the nearest of them. @throws RangeError when there is none. */
export function toMesh(shape: NotTube, bodies: readonly PlacedBody[]): Near {
  let least = Infinity
  const found: Near[] = []
  for (const body of bodies) {
    const near = toBody(shape, body, least + SLACK)
    if (!near) continue
    found.push(near)
    least = Math.min(least, near.gap)
  }
  const best = nearestOf(found.filter(n => n.gap - n.errorBound <= least))
  if (!best) throw new RangeError('the model has no surface')
  return best
}

function toBody(shape: NotTube, body: PlacedBody, limit: number): Near | null {
  if (shape.kind !== 'swept') return convexToBody(thin(shape)!, body, limit)
  const found = tubePlacedMeshGap(shape.swept, body, limit - shape.grown)
  return (
    found && {
      gap: found.gap + shape.grown,
      errorBound: found.errorBound + 2 * shape.grown,
      from: found.pointA,
      to: found.pointB,
    }
  )
}

/** A place of a bounded solid: the middle of its bounds, which boxes, cylinders, balls and their faces all hold. */
const middleOf = ({ low, high }: Bounds): Vec3 => [
  (low[0] + high[0]) / 2,
  (low[1] + high[1]) / 2,
  (low[2] + high[2]) / 2,
]

function convexToBody(solid: Convex, { tree, placed: { frame } }: PlacedBody, limit: number): Near | null {
  const own = convexToModel(solid, frame)
  const near = convexMeshGap(own, tree, limit)
  const skid = (gap: number, { errorBound, pointA, pointB }: NonNullable<typeof near>): Near => ({
    gap,
    errorBound,
    from: frame.toSkid(pointA),
    to: frame.toSkid(pointB),
  })
  if ((near && near.gap <= 0) || !own.support || !isWithin(tree, middleOf(own)))
    return near && skid(near.gap, near)
  const under = near ?? convexMeshGap(own, tree, Infinity)
  const way = under && unit(sub(under.pointB, under.pointA))
  if (!way) return under && skid(-under.gap, under)
  const wide = dot(way, sub(own.support(way), own.support(scale(way, -1))))
  return skid(-(under.gap + wide), under)
}

function isWithin(tree: TriangleTree, at: Vec3): boolean {
  const { low, high } = boundsOfTree(tree)
  return at.every((x, k) => x >= low[k]! && x <= high[k]!) && isInside(tree, at) === true
}

/**
 * Least distance between two models, body by body; 0 and `overlapping` where surfaces meet or something of one lies
 * inside a closed body of the other.
 *
 * @throws RangeError when the two have a body in common.
 */
export function meshToMesh(
  nameA: string,
  bodiesA: readonly PlacedBody[],
  nameB: string,
  bodiesB: readonly PlacedBody[],
): Near {
  if (bodiesA.some(a => bodiesB.some(b => a.id === b.id)))
    throw new RangeError(`${nameA} and ${nameB} have a part in common`)
  let least = Infinity
  const found: Near[] = []
  for (const a of bodiesA)
    for (const b of bodiesB) {
      if (least < Infinity && !boundsMeet(a, b, least)) continue
      const near = bodyToBody(a, b, least)
      if (near?.overlapping) return near
      if (!near) continue
      found.push(near)
      least = near.gap
    }
  const best = nearestOf(found)
  if (!best) throw new RangeError('the models have no surface')
  return best
}

function bodyToBody(a: PlacedBody, b: PlacedBody, limit: number): Near | null {
  const { frame } = a.placed
  const map = frameToFrame(b, a)
  const near = meshMeshGap(a.tree, b.tree, map, limit)
  const met = near && near.gap <= ROUNDING ? near.pointA : null
  const inside =
    met || !boundsMeet(a, b, 0)
      ? met
      : (pointInMesh(a.tree, b.tree, map) ?? fromB(pointInMesh(b.tree, a.tree, frameToFrame(a, b)), map))
  if (inside) {
    const at = frame.toSkid(inside)
    return { gap: 0, errorBound: ROUNDING, overlapping: true, from: at, to: at }
  }
  return (
    near && {
      gap: near.gap,
      errorBound: near.errorBound,
      from: frame.toSkid(near.pointA),
      to: frame.toSkid(near.pointB),
    }
  )
}

const IDENTITY: RigidMap = {
  at: [0, 0, 0],
  axes: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
}

/** From one body's frame to another's; parts of one model share theirs, so nothing is rounded between them. */
function frameToFrame(from: PlacedBody, to: PlacedBody): RigidMap {
  const [f, t] = [from.placed.frame, to.placed.frame]
  if (samePlacement(f.placement, t.placement)) return IDENTITY
  const turned = (axis: Vec3): Vec3 => [dot(axis, t.axes[0]), dot(axis, t.axes[1]), dot(axis, t.axes[2])]
  return {
    at: t.toModel(f.toSkid([0, 0, 0])),
    axes: [turned(f.axes[0]), turned(f.axes[1]), turned(f.axes[2])],
  }
}

const fromB = (p: Vec3 | null, { at, axes }: RigidMap): Vec3 | null =>
  p &&
  ([0, 1, 2].map(
    k => at[k]! + p[0] * axes[0][k]! + p[1] * axes[1][k]! + p[2] * axes[2][k]!,
  ) as unknown as Vec3)
