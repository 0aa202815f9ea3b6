import type { Convex } from './convex.ts'
import { convexDistance } from './convexPair.ts'
import { NearestHeap } from './nearestHeap.ts'
import type { SegmentPair } from './segments.ts'
import { nearestOnTriangle, type SegmentTriangle } from './segmentTriangle.ts'
import { nearestParameter, overhangAt, pointOnShape, type Stretch, type Swept } from './swept.ts'
import { type Gap, ROUNDING, SEARCH_TOLERANCE } from './sweptGap.ts'
import { triangleSolid } from './triangleSolid.ts'
import { boundsOfTree, type TriangleTree, triangleAt } from './triangleTree.ts'
import { addScaled, distance, dot, length, scale, sub, type Vec3 } from './vec3.ts'

interface Nearest {
  readonly stretch: Stretch
  /** From the centre line's segment, or from the cut end's own outside plus the radius. */
  readonly apart: number
  readonly lower: number
  readonly u: number
  readonly triangle: number
  readonly point: Vec3
  /** Set where a cut end decides: the point on its outside. */
  readonly onEnd: Vec3 | null
}

const LEAN = 1e-7

/**
 * Least gap between a swept outside (A) and a mesh's surface (B) below `limit`, or null; mm. `shapeB` is the number
 * of the nearest triangle. Negative where the surface reaches into the rod: minus the depth towards the centre line.
 *
 * The surface is all that is looked at: whether a rod without contact lies wholly inside a closed mesh is
 * `isInside`'s question.
 */
export function sweptMeshGap(A: Swept, mesh: TriangleTree, limit: number): Gap | null {
  const r = A.radius
  const open = new NearestHeap<Nearest>()
  let best: Nearest | null = null
  let upper = limit + r
  const look = (stretch: Stretch, hint: number) => {
    const near = nearestTriangle(stretch, mesh, upper + stretch.slack, r, hint)
    if (!near) return
    if (near.apart + stretch.slack < upper || !best) {
      upper = Math.min(upper, near.apart + stretch.slack)
      best = near
    }
    open.push(near.lower - stretch.slack, near)
  }
  for (const stretch of byBox(A.stretches, mesh)) look(stretch, -1)
  let doneLower = Infinity
  while (open.size > 0 && open.least < upper - SEARCH_TOLERANCE) {
    const { stretch, lower, triangle } = open.pop()!
    if (stretch.slack === 0) doneLower = Math.min(doneLower, lower)
    else for (const half of stretch.split()) look(half, triangle)
  }
  const found = best as Nearest | null
  if (!found) return null
  const settled = settle(A, mesh, found)
  if (!(settled.gap < limit)) return null
  const certain = Math.min(open.least - r, doneLower - r, settled.gap)
  const { gap, pointA, pointB, overhang } = settled
  return {
    gap,
    errorBound: Math.max(gap - certain, overhang) + ROUNDING,
    pointA,
    pointB,
    shapeA: found.stretch.index,
    shapeB: found.triangle,
  }
}

/** Stretches, the one nearest to the mesh's box first. */
function byBox(stretches: readonly Stretch[], mesh: TriangleTree): Stretch[] {
  const { low, high } = boundsOfTree(mesh)
  const middle: Vec3 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2]
  const key = (s: Stretch) => distance([s.mx, s.my, s.mz], middle) - s.reach
  return [...stretches].sort((a, b) => key(a) - key(b))
}

/** Nearest triangle to a stretch's segment, nearer than `limit` (to the centre line), cut ends taken as they are. */
function nearestTriangle(
  s: Stretch,
  mesh: TriangleTree,
  limit: number,
  radius: number,
  hint: number,
): Nearest | null {
  const { boxes, child, first, count, order, corners } = mesh
  const pair: SegmentPair = { u: 0, v: 0, distance: 0 }
  const spot: SegmentTriangle = { u: 0, x: 0, y: 0, z: 0, distance: 0 }
  let least = limit
  let best: Nearest | null = null
  let lower = Infinity
  const tryTriangle = (i: number) => {
    if (!nearestOnTriangle(s, corners, 9 * i, least, pair, spot)) return
    const point: Vec3 = [spot.x, spot.y, spot.z]
    const cut = s.solid && pastCut(s, spot.u, point) ? cutEnd(s.solid, mesh, i, radius, spot.distance) : null
    const apart = cut ? cut.apart : spot.distance
    lower = Math.min(lower, cut ? cut.lower : apart)
    if (apart >= least) return
    least = apart
    best = {
      stretch: s,
      apart,
      lower: apart,
      u: spot.u,
      triangle: i,
      point: cut ? cut.point : point,
      onEnd: cut ? cut.onEnd : null,
    }
  }
  if (hint >= 0) tryTriangle(hint)
  const open: number[] = [0]
  const keys: number[] = [boxApart(s, boxes, 0)]
  while (open.length > 0) {
    const node = open.pop()!
    if (keys.pop()! >= least) continue
    const down = child[node]!
    if (down === 0) {
      const from = first[node]!
      for (let i = from; i < from + count[node]!; i++) tryTriangle(order[i]!)
      continue
    }
    const a = boxApart(s, boxes, 6 * down)
    const b = boxApart(s, boxes, 6 * down + 6)
    const [far, near] = a < b ? [down + 1, down] : [down, down + 1]
    if (Math.max(a, b) < least) {
      open.push(far)
      keys.push(Math.max(a, b))
    }
    if (Math.min(a, b) < least) {
      open.push(near)
      keys.push(Math.min(a, b))
    }
  }
  const found = best as Nearest | null
  return found && { ...found, lower: Math.min(lower, found.apart) }
}

/** The segment is at least this far from the box: the better of their boxes' gap and the balls around both. */
function boxApart(s: Stretch, boxes: Float64Array, at: number): number {
  const gx = Math.max(boxes[at]! - Math.max(s.ax, s.bx), Math.min(s.ax, s.bx) - boxes[at + 3]!, 0)
  const gy = Math.max(boxes[at + 1]! - Math.max(s.ay, s.by), Math.min(s.ay, s.by) - boxes[at + 4]!, 0)
  const gz = Math.max(boxes[at + 2]! - Math.max(s.az, s.bz), Math.min(s.az, s.bz) - boxes[at + 5]!, 0)
  const cx = (boxes[at]! + boxes[at + 3]!) / 2
  const cy = (boxes[at + 1]! + boxes[at + 4]!) / 2
  const cz = (boxes[at + 2]! + boxes[at + 5]!) / 2
  const hx = boxes[at + 3]! - cx
  const hy = boxes[at + 4]! - cy
  const hz = boxes[at + 5]! - cz
  const dx = s.bx - s.ax
  const dy = s.by - s.ay
  const dz = s.bz - s.az
  const l = dx * dx + dy * dy + dz * dz
  const t = l > 0 ? ((cx - s.ax) * dx + (cy - s.ay) * dy + (cz - s.az) * dz) / l : 0
  const u = Math.min(Math.max(t, 0), 1)
  const x = s.ax + dx * u - cx
  const y = s.ay + dy * u - cy
  const z = s.az + dz * u - cz
  const balls = Math.sqrt(x * x + y * y + z * z) - Math.sqrt(hx * hx + hy * hy + hz * hz)
  return Math.max(Math.sqrt(gx * gx + gy * gy + gz * gz), balls)
}

function pastCut(s: Stretch, u: number, point: Vec3): boolean {
  const end = u === 0 ? s.flatStart : u === 1 ? s.flatEnd : null
  if (!end) return false
  const way = sub(point, u === 0 ? s.a : s.b)
  return dot(way, end.outward) > LEAN * length(way)
}

/** The end's flat cylinder against one triangle, as a distance from the centre line: the radius is added. */
function cutEnd(end: Convex, mesh: TriangleTree, i: number, radius: number, round: number) {
  const met = convexDistance(end, triangleSolid(triangleAt(mesh, i)), SEARCH_TOLERANCE / 4)
  return met.overlap
    ? { apart: Math.min(round, radius), lower: Math.min(round, radius), point: met.pointB, onEnd: met.pointA }
    : { apart: met.upper + radius, lower: met.lower + radius, point: met.pointB, onEnd: met.pointA }
}

function settle(A: Swept, mesh: TriangleTree, found: Nearest) {
  const { stretch: s, u, onEnd } = found
  const r = A.radius
  if (onEnd) return { gap: found.apart - r, pointA: onEnd, pointB: found.point, overhang: 0 }
  let t = s.from + u * (s.to - s.from)
  let p = pointOnShape(s.shape, t)
  let { point } = found
  let apart = distance(p, point)
  const corner = { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 }
  const pair: SegmentPair = { u: 0, v: 0, distance: 0 }
  const spot: SegmentTriangle = { u: 0, x: 0, y: 0, z: 0, distance: 0 }
  for (let step = 0; step < 40 && s.slack > 0; step++) {
    const t2 = nearestParameter(s.shape, point)
    const p2 = pointOnShape(s.shape, t2)
    ;[corner.ax, corner.ay, corner.az] = p2
    ;[corner.bx, corner.by, corner.bz] = p2
    nearestOnTriangle(corner, mesh.corners, 9 * found.triangle, Infinity, pair, spot)
    if (!(spot.distance < apart - 1e-12)) break
    t = t2
    p = p2
    point = [spot.x, spot.y, spot.z]
    apart = spot.distance
  }
  const way = apart > 0 ? scale(sub(point, p), 1 / apart) : ([0, 0, 0] as const)
  return {
    gap: apart - r,
    pointA: addScaled(p, way, r),
    pointB: point,
    overhang: overhangAt(A, s.index, t),
  }
}
