import { NearestHeap } from './nearestHeap.ts'
import type { SegmentEnds, SegmentPair } from './segments.ts'
import { nearestOnTriangle, type SegmentTriangle } from './segmentTriangle.ts'
import { ROUNDING } from './sweptGap.ts'
import type { TriangleTree } from './triangleTree.ts'
import type { Vec3 } from './vec3.ts'

/** How near two surfaces come, mm ≥ 0; 0 where they meet. */
export interface MeshMeshGap {
  readonly gap: number
  /** The true distance is no further than this from `gap`. */
  readonly errorBound: number
  readonly pointA: Vec3
  readonly pointB: Vec3
}

/** A rigid map: p becomes `at` + p₀·axes₀ + p₁·axes₁ + p₂·axes₂. */
export interface RigidMap {
  readonly at: Vec3
  readonly axes: readonly [Vec3, Vec3, Vec3]
}

/** Pairs that could only be better by rounding are left: flat against flat all of them are as near. mm */
const TIE = 1e-7
/** Pairs of boxes looked at before the search settles for what it has: a second or two. */
const MOST_PAIRS = 2_000_000
/** So often the pair that is next is followed straight down, for a nearer figure while the bound still rises. */
const DIVE_EVERY = 64
/** Packs two node numbers into one whole number: trees of four million triangles have fewer nodes. */
const PACK = 2 ** 24

/**
 * Least distance between the surfaces of two meshes below `limit`, or null, in A's frame; `bToA` brings B there.
 *
 * Both trees are walked down at once, the nearest pair of boxes first, the larger box of a pair opened. Two triangles
 * are nearest between an edge of one and the other, which has a closed form. What is left open is certain not to be
 * nearer than the pair of boxes that would be next, so two huge skins that lie along each other get an answer in
 * time, with a bound that says how much it leaves open.
 */
export function meshMeshGap(
  A: TriangleTree,
  B: TriangleTree,
  bToA: RigidMap,
  limit: number,
  mostPairs = MOST_PAIRS,
): MeshMeshGap | null {
  const flat = flatMap(bToA)
  const apart = boxesApart(A, B, flat)
  const meet = triangleMeeting(A, B, flat)
  const open = new NearestHeap<number>()
  let best = limit
  let found: MeshMeshGap | null = null
  const look = (a: number, b: number) => {
    const key = apart(a, b)
    if (key < best) open.push(key, a * PACK + b)
  }
  const weigh = (a: number, b: number) => {
    for (let j = 0; j < B.count[b]!; j++)
      for (let i = 0; i < A.count[a]!; i++) {
        const near = meet(A.order[A.first[a]! + i]!, B.order[B.first[b]! + j]!, best)
        if (!near) continue
        found = near
        best = near.gap
      }
  }
  const dive = (fromA: number, fromB: number) => {
    let [a, b] = [fromA, fromB]
    for (;;) {
      const pairs = below(A, a, B, b)
      if (!pairs) return weigh(a, b)
      const [p, q] = pairs
      ;[a, b] = apart(...p) <= apart(...q) ? p : q
    }
  }
  look(0, 0)
  for (let pairs = 0; open.size > 0 && open.least < best - TIE && best > 0; pairs++) {
    // Without any pair of triangles below the limit there is nothing to settle for.
    if (pairs >= mostPairs && found) break
    const packed = open.pop()!
    const [a, b] = [Math.floor(packed / PACK), packed % PACK]
    if (pairs % DIVE_EVERY === 0) dive(a, b)
    const pairsBelow = below(A, a, B, b)
    if (!pairsBelow) weigh(a, b)
    else for (const pair of pairsBelow) look(...pair)
  }
  const nearest = found as MeshMeshGap | null
  return nearest && { ...nearest, errorBound: Math.max(0, best - open.least) + ROUNDING }
}

/** Nine figures of the turn, row by row, then three of the shift: innermost loops read plain numbers. */
const flatMap = ({ at, axes: [x, y, z] }: RigidMap): Float64Array =>
  Float64Array.of(x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2], at[0], at[1], at[2])

/** The two pairs of boxes that a pair opens into, its larger box halved; null for two leaves. */
function below(
  A: TriangleTree,
  a: number,
  B: TriangleTree,
  b: number,
): [[number, number], [number, number]] | null {
  const downA = A.child[a]!
  const downB = B.child[b]!
  if (downA === 0 && downB === 0) return null
  return downB === 0 || (downA !== 0 && sizeOf(A, a) >= sizeOf(B, b))
    ? [
        [downA, b],
        [downA + 1, b],
      ]
    : [
        [a, downB],
        [a, downB + 1],
      ]
}

const sizeOf = ({ boxes }: TriangleTree, node: number): number => {
  const at = 6 * node
  return Math.max(
    boxes[at + 3]! - boxes[at]!,
    boxes[at + 4]! - boxes[at + 1]!,
    boxes[at + 5]! - boxes[at + 2]!,
  )
}

/** A lower bound for the distance of what is in two boxes: along A's axes, and of the balls around both. */
function boxesApart(A: TriangleTree, B: TriangleTree, m: Float64Array) {
  const spread = m.map(Math.abs)
  return (a: number, b: number): number => {
    const p = 6 * a
    const q = 6 * b
    const bx = (B.boxes[q]! + B.boxes[q + 3]!) / 2
    const by = (B.boxes[q + 1]! + B.boxes[q + 4]!) / 2
    const bz = (B.boxes[q + 2]! + B.boxes[q + 5]!) / 2
    const hx = B.boxes[q + 3]! - bx
    const hy = B.boxes[q + 4]! - by
    const hz = B.boxes[q + 5]! - bz
    let gaps = 0
    let middles = 0
    let ball = 0
    for (let k = 0; k < 3; k++) {
      const low = A.boxes[p + k]!
      const high = A.boxes[p + 3 + k]!
      const at = m[9 + k]! + m[3 * k]! * bx + m[3 * k + 1]! * by + m[3 * k + 2]! * bz
      const half = spread[3 * k]! * hx + spread[3 * k + 1]! * hy + spread[3 * k + 2]! * hz
      const off = Math.abs(at - (low + high) / 2)
      const own = (high - low) / 2
      const clear = off - own - half
      if (clear > 0) gaps += clear * clear
      middles += off * off
      ball += own * own
    }
    const balls = Math.sqrt(middles) - Math.sqrt(ball) - Math.sqrt(hx * hx + hy * hy + hz * hz)
    return Math.max(Math.sqrt(gaps), balls, 0)
  }
}

/** Two triangles are at least this far apart, mm: as far as the boxes around them. */
function boxesOfTriangles(a: Float64Array, at: number, b: Float64Array): number {
  let sum = 0
  for (let k = 0; k < 3; k++) {
    const p = a[at + k]!
    const q = a[at + 3 + k]!
    const r = a[at + 6 + k]!
    const x = b[k]!
    const y = b[3 + k]!
    const z = b[6 + k]!
    const below = Math.min(x, y, z) - Math.max(p, q, r)
    const above = Math.min(p, q, r) - Math.max(x, y, z)
    const apart = Math.max(below, above)
    if (apart > 0) sum += apart * apart
  }
  return Math.sqrt(sum)
}

function triangleMeeting(A: TriangleTree, B: TriangleTree, m: Float64Array) {
  const other = new Float64Array(9)
  const pair: SegmentPair = { u: 0, v: 0, distance: 0 }
  const spot: SegmentTriangle = { u: 0, x: 0, y: 0, z: 0, distance: 0 }
  const side: { -readonly [K in keyof SegmentEnds]: number } = { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 }
  const edge = (c: Float64Array, at: number, k: number) => {
    const p = at + 3 * k
    const q = at + 3 * ((k + 1) % 3)
    side.ax = c[p]!
    side.ay = c[p + 1]!
    side.az = c[p + 2]!
    side.bx = c[q]!
    side.by = c[q + 1]!
    side.bz = c[q + 2]!
  }
  const onEdge = (): Vec3 => [
    side.ax + (side.bx - side.ax) * spot.u,
    side.ay + (side.by - side.ay) * spot.u,
    side.az + (side.bz - side.az) * spot.u,
  ]
  let last = -1
  /** The nearest places of A's triangle i and B's j, in A's frame, when nearer than `limit`. */
  return (i: number, j: number, limit: number): MeshMeshGap | null => {
    if (j !== last) {
      last = j
      for (let n = 0; n < 9; n += 3) {
        const x = B.corners[9 * j + n]!
        const y = B.corners[9 * j + n + 1]!
        const z = B.corners[9 * j + n + 2]!
        for (let k = 0; k < 3; k++)
          other[n + k] = m[9 + k]! + m[3 * k]! * x + m[3 * k + 1]! * y + m[3 * k + 2]! * z
      }
    }
    const ofA = 9 * i
    if (boxesOfTriangles(A.corners, ofA, other) >= limit) return null
    let found: MeshMeshGap | null = null
    let least = limit
    for (let k = 0; k < 3 && least > 0; k++) {
      edge(A.corners, ofA, k)
      if (nearestOnTriangle(side, other, 0, least, pair, spot)) {
        least = spot.distance
        found = { gap: least, errorBound: 0, pointA: onEdge(), pointB: [spot.x, spot.y, spot.z] }
      }
      edge(other, 0, k)
      if (nearestOnTriangle(side, A.corners, ofA, least, pair, spot)) {
        least = spot.distance
        found = { gap: least, errorBound: 0, pointA: [spot.x, spot.y, spot.z], pointB: onEdge() }
      }
    }
    return found
  }
}
