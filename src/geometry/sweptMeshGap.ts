import { type ConvexPair, convexDistance } from './convexPair.ts'
import { leastOver } from './leastOver.ts'
import { NearestHeap } from './nearestHeap.ts'
import { around, cutPlaces, isSquare, isThick, leastOnThick, SETTLED } from './nearestSwept.ts'
import type { SegmentPair } from './segments.ts'
import { nearestOnTriangle, type SegmentTriangle } from './segmentTriangle.ts'
import { discAt, fromEnd, mostThinned, pointOnShape, type Stretch, type Swept, thinned } from './swept.ts'
import { depthGap, type Gap, ROUNDING, SEARCH_TOLERANCE, type Touch } from './sweptGap.ts'
import { touchingAt } from './touchingAt.ts'
import { triangleSolid } from './triangleSolid.ts'
import { boundsOfTree, type TriangleTree, triangleAt } from './triangleTree.ts'
import { addScaled, distance, scale, sub, type Vec3 } from './vec3.ts'

interface Nearest {
  readonly stretch: Stretch
  /** From the centre line's segment, or from the flat body's own outside plus the radius. */
  readonly apart: number
  readonly lower: number
  /** The stretch's true rod may be nearer or farther by this. */
  readonly slack: number
  readonly u: number
  readonly triangle: number
  readonly point: Vec3
  /** Set where a cut end decides: the point on its outside. */
  readonly onEnd: Vec3 | null
}

/** Between flat bodies, mm. */
const TOLERANCE = 1e-9
/** Nearer to a true end than this a place is the end. mm */
const AT_END = 1e-6

/**
 * Least gap between a swept outside (A) and a mesh's surface (B) below `limit`, or null; mm. `shapeB` is the number
 * of the nearest triangle. Negative where the surface reaches into the rod: minus how much thinner, and shorter at cut
 * ends, the rod would have to be, at most its radius.
 *
 * The surface is all that is looked at: whether a rod without contact lies wholly inside a closed mesh is
 * `isInside`'s question.
 */
export function sweptMeshGap(A: Swept, mesh: TriangleTree, limit: number): Gap | null {
  const round = nearest(A, mesh, limit, false)
  if (!round || (round.from >= AT_END && round.from >= -round.gap)) return round && asGap(round)
  // Of flat ends an overlap is 0 until its depth is worked out.
  const flat = nearest(A, mesh, Math.max(limit, Number.MIN_VALUE), true)
  if (!flat || flat.gap > 0) return flat && flat.gap < limit ? asGap(flat) : null
  const most = mostThinned(A)
  const apart = (by: number): Touch => nearest(thinned(A, by), mesh, Infinity, true)!
  const atMost = apart(most)
  if (!(atMost.gap > 0)) return below(depthGap(atMost, atMost, most, 0), limit)
  const { by, at, toldApart } = touchingAt(apart, most, atMost)
  return below(depthGap(at, toldApart, by, 0), limit)
}

const below = (gap: Gap, limit: number): Gap | null => (gap.gap < limit ? gap : null)

const asGap = ({ gap, lower, pointA, pointB, shapeA, shapeB }: Touch): Gap => ({
  gap,
  errorBound: gap - lower + ROUNDING,
  pointA,
  pointB,
  shapeA,
  shapeB,
})

/** @param cut ends as they are, flat, and an overlap is 0; else ends are rounded. */
function nearest(
  A: Swept,
  mesh: TriangleTree,
  limit: number,
  cut: boolean,
): (Touch & { readonly from: number }) | null {
  const r = A.radius
  const open = new NearestHeap<Nearest>()
  let best: Nearest | null = null
  let upper = limit + r
  const look = (stretch: Stretch, hint: number) => {
    const near = nearestTriangle(stretch, mesh, upper + slackOf(stretch, cut), cut, hint)
    if (!near) return
    if (near.apart + near.slack < upper || !best) {
      upper = Math.min(upper, near.apart + near.slack)
      best = near
    }
    open.push(near.lower - near.slack, near)
  }
  for (const stretch of byBox(A.stretches, mesh)) look(stretch, -1)
  let doneLower = Infinity
  while (open.size > 0 && open.least < upper - SEARCH_TOLERANCE && !(cut && upper <= r)) {
    const { stretch, lower, triangle } = open.pop()!
    if (stretch.slack === 0) doneLower = Math.min(doneLower, lower)
    else for (const half of stretch.split()) look(half, triangle)
  }
  const found = best as Nearest | null
  if (!found) return null
  const certain = Math.min(open.least - r, doneLower - r)
  let settled = settle(A, mesh, found, cut)
  // What is left may be nearer by less than the tolerance: once for each shape.
  const seen = new Set<number>()
  for (let next = open.pop(); next && next.lower - next.slack - r < settled.gap; next = open.pop()) {
    if (seen.has(next.stretch.index)) continue
    seen.add(next.stretch.index)
    const other = settle(A, mesh, next, cut)
    if (other.gap < settled.gap) settled = other
  }
  if (!(settled.gap < limit)) return null
  return { ...settled, lower: Math.min(certain, settled.gap) }
}

const slackOf = (s: Stretch, cut: boolean): number =>
  cut && s.nearCut ? Math.max(s.slack, s.flatSlack / 2) : s.slack

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
  cut: boolean,
  hint: number,
): Nearest | null {
  const { boxes, child, first, count, order, corners } = mesh
  const pair: SegmentPair = { u: 0, v: 0, distance: 0 }
  const spot: SegmentTriangle = { u: 0, x: 0, y: 0, z: 0, distance: 0 }
  let least = limit
  let best: Nearest | null = null
  let lower = Infinity
  const slack = slackOf(s, cut)
  const tryTriangle = (i: number) => {
    if (!nearestOnTriangle(s, corners, 9 * i, least, pair, spot)) return
    const isFlat = cut && s.nearCut && (s.slack > 0 || spot.u === 0 || spot.u === 1)
    const met = isFlat ? convexDistance(s.flat, triangleSolid(triangleAt(mesh, i)), TOLERANCE) : null
    // The flat body holds the true rod: what that is farther is in the middle of what it may be.
    const apart = met ? met.upper + s.radius + slack : spot.distance
    lower = Math.min(lower, met ? met.lower + s.radius + slack : apart)
    if (apart >= least) return
    least = apart
    best = {
      stretch: s,
      apart,
      lower: apart,
      slack,
      u: spot.u,
      triangle: i,
      point: met ? met.pointB : [spot.x, spot.y, spot.z],
      onEnd: met ? met.pointA : null,
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

/** The place on the true rod, walked downhill to rounding; an overlap is 0 where ends are cut. */
function settle(A: Swept, mesh: TriangleTree, found: Nearest, cut: boolean): Settled {
  const { stretch: s, u, onEnd, triangle } = found
  if (!onEnd) return settleRound(A, mesh, found, cut)
  const onDisc = (t: number, { upper, pointA, pointB }: ConvexPair): Settled => ({
    shapeA: A.first + s.index,
    shapeB: triangle,
    gap: upper,
    pointA,
    pointB,
    from: fromEnd(A, s.index, t),
  })
  if (s.slack === 0)
    return onDisc(u, { ...NO_PAIR, upper: found.apart - A.radius, pointA: onEnd, pointB: found.point })
  // On an arc near a cut end nothing but sections counts: where the centre line comes nearest, and the end's own disc.
  const solid = triangleSolid(triangleAt(mesh, triangle))
  const disc = (t: number) => onDisc(t, convexDistance(discAt(s.shape, t, s.radius), solid, TOLERANCE))
  const round = settleRound(A, mesh, found, cut)
  const first = isSquare(s, round.t, round.way) ? round : disc(round.t)
  const best = cutPlaces(A, s.index).map(disc).reduce(nearerOf, first)
  const isSettled = !isThick(s) || best.gap + A.radius <= found.lower - found.slack + SETTLED
  return isSettled ? best : nearerOf(best, disc(leastOnThick(t => disc(t).gap, s)))
}

const nearerOf = (p: Settled, q: Settled): Settled => (q.gap < p.gap ? q : p)

const NO_PAIR = { lower: 0, overlap: false }
type Settled = Omit<Touch, 'lower'> & { readonly from: number }

function settleRound(
  A: Swept,
  mesh: TriangleTree,
  found: Nearest,
  cut: boolean,
): Settled & { readonly t: number; readonly way: Vec3 } {
  const { stretch: s, u, triangle } = found
  const corner = { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 }
  const pair: SegmentPair = { u: 0, v: 0, distance: 0 }
  const spot: SegmentTriangle = { u: 0, x: 0, y: 0, z: 0, distance: 0 }
  const away = (t: number): number => {
    const at = pointOnShape(s.shape, t)
    ;[corner.ax, corner.ay, corner.az] = at
    ;[corner.bx, corner.by, corner.bz] = at
    nearestOnTriangle(corner, mesh.corners, 9 * triangle, Infinity, pair, spot)
    return spot.distance
  }
  const t = s.slack === 0 ? u : leastOver(away, ...around(s))
  const p = pointOnShape(s.shape, t)
  const apart = s.slack === 0 ? found.apart : away(t)
  const point: Vec3 = s.slack === 0 ? found.point : [spot.x, spot.y, spot.z]
  const way = apart > 0 ? scale(sub(point, p), 1 / apart) : ([0, 0, 0] as const)
  const gap = apart - A.radius
  return {
    shapeA: A.first + s.index,
    shapeB: triangle,
    gap: cut ? Math.max(gap, 0) : gap,
    pointA: addScaled(p, way, A.radius),
    pointB: point,
    from: fromEnd(A, s.index, t),
    t,
    way,
  }
}
