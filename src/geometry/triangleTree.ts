import type { Vec3 } from './vec3.ts'

const LEAF = 4

/**
 * Triangles in a tree of boxes, all in typed arrays: it is built and handed over between threads without copying.
 * Node `k`'s box is `boxes[6k…]` (low, high); its children are `child[k]` and `child[k] + 1`, or, when `child[k]` is
 * 0, it is a leaf with the triangles `order[first[k] … first[k] + count[k] − 1]`.
 */
export interface TriangleTree {
  /** Corner coordinates, mm: nine numbers a triangle. */
  readonly corners: Float64Array
  readonly order: Uint32Array
  readonly boxes: Float64Array
  readonly child: Uint32Array
  readonly first: Uint32Array
  readonly count: Uint32Array
}

/**
 * Builds the tree.
 *
 * @param positions x, y, z of each vertex, mm.
 * @param indices three vertex numbers a triangle, or null when every three vertices are one.
 * @throws RangeError naming the first coordinate that is not finite, the first index out of range, or a count that
 *   is no whole number of triangles; and when there is no triangle.
 */
export function triangleTree(positions: ArrayLike<number>, indices: ArrayLike<number> | null): TriangleTree {
  const corners = readCorners(positions, indices)
  const n = corners.length / 9
  const order = new Uint32Array(n)
  for (let i = 0; i < n; i++) order[i] = i
  const middles = new Float64Array(3 * n)
  for (let i = 0; i < n; i++)
    for (let k = 0; k < 3; k++)
      middles[3 * i + k] = corners[9 * i + k]! + corners[9 * i + 3 + k]! + corners[9 * i + 6 + k]!
  const most = 2 * Math.ceil(n / Math.max(1, LEAF / 2)) + 1
  const boxes = new Float64Array(6 * most)
  const child = new Uint32Array(most)
  const first = new Uint32Array(most)
  const count = new Uint32Array(most)
  let nodes = 1
  count[0] = n
  const open = [0]
  while (open.length > 0) {
    const node = open.pop()!
    const from = first[node]!
    const to = from + count[node]!
    if (to - from <= LEAF) continue
    const axis = longestSide(middles, order, from, to)
    const half = (from + to) >> 1
    partition(order, middles, axis, from, to - 1, half)
    child[node] = nodes
    first[nodes] = from
    count[nodes] = half - from
    first[nodes + 1] = half
    count[nodes + 1] = to - half
    open.push(nodes, nodes + 1)
    nodes += 2
  }
  // Children come after their parent, so backwards every box finds its parts done.
  for (let node = nodes - 1; node >= 0; node--) {
    const down = child[node]!
    if (down === 0) boundTriangles(corners, order, first[node]!, first[node]! + count[node]!, boxes, 6 * node)
    else
      for (let k = 0; k < 3; k++) {
        boxes[6 * node + k] = Math.min(boxes[6 * down + k]!, boxes[6 * down + 6 + k]!)
        boxes[6 * node + 3 + k] = Math.max(boxes[6 * down + 3 + k]!, boxes[6 * down + 9 + k]!)
      }
  }
  return {
    corners,
    order,
    boxes: boxes.slice(0, 6 * nodes),
    child: child.slice(0, nodes),
    first: first.slice(0, nodes),
    count: count.slice(0, nodes),
  }
}

function readCorners(positions: ArrayLike<number>, indices: ArrayLike<number> | null): Float64Array {
  const vertices = positions.length / 3
  const used = indices ? indices.length : vertices
  if (!Number.isInteger(vertices) || !Number.isInteger(used / 3))
    throw new RangeError(
      `mesh: found ${positions.length} coordinates and ${used} corners, wanted whole triangles`,
    )
  if (used === 0) throw new RangeError('mesh: found no triangles, wanted at least one')
  const corners = new Float64Array(3 * used)
  for (let i = 0; i < used; i++) {
    const vertex = indices ? indices[i]! : i
    if (!(Number.isInteger(vertex) && vertex >= 0 && vertex < vertices))
      throw new RangeError(`mesh: found vertex ${vertex} at corner ${i}, wanted 0 to ${vertices - 1}`)
    for (let k = 0; k < 3; k++) {
      const x = positions[3 * vertex + k]!
      if (!Number.isFinite(x))
        throw new RangeError(`mesh: found coordinate ${x} in vertex ${vertex}, wanted a finite length in mm`)
      corners[3 * i + k] = x
    }
  }
  return corners
}

function boundTriangles(
  corners: Float64Array,
  order: Uint32Array,
  from: number,
  to: number,
  boxes: Float64Array,
  at: number,
): void {
  for (let k = 0; k < 3; k++) {
    let low = Infinity
    let high = -Infinity
    for (let i = from; i < to; i++) {
      const c = 9 * order[i]! + k
      const p = corners[c]!
      const q = corners[c + 3]!
      const r = corners[c + 6]!
      low = Math.min(low, p, q, r)
      high = Math.max(high, p, q, r)
    }
    boxes[at + k] = low
    boxes[at + 3 + k] = high
  }
}

function longestSide(middles: Float64Array, order: Uint32Array, from: number, to: number): number {
  let best = 0
  let longest = -1
  for (let k = 0; k < 3; k++) {
    let low = Infinity
    let high = -Infinity
    for (let i = from; i < to; i++) {
      const x = middles[3 * order[i]! + k]!
      if (x < low) low = x
      if (x > high) high = x
    }
    if (high - low > longest) {
      longest = high - low
      best = k
    }
  }
  return best
}

/** Puts the smaller half of `from … to` before `half` along `axis` (Hoare's selection). */
function partition(
  order: Uint32Array,
  middles: Float64Array,
  axis: number,
  from: number,
  to: number,
  half: number,
): void {
  let left = from
  let right = to
  while (left < right) {
    const pivot = middles[3 * order[(left + right) >> 1]! + axis]!
    let i = left
    let j = right
    while (i <= j) {
      while (middles[3 * order[i]! + axis]! < pivot) i++
      while (middles[3 * order[j]! + axis]! > pivot) j--
      if (i > j) break
      const t = order[i]!
      order[i] = order[j]!
      order[j] = t
      i++
      j--
    }
    if (half <= j) right = j
    else if (half >= i) left = i
    else return
  }
}

/** The bounds of the whole mesh, mm. */
export const boundsOfTree = ({ boxes }: TriangleTree): { low: Vec3; high: Vec3 } => ({
  low: [boxes[0]!, boxes[1]!, boxes[2]!],
  high: [boxes[3]!, boxes[4]!, boxes[5]!],
})

/** The corners of a triangle. */
export function triangleAt({ corners }: TriangleTree, i: number): readonly [Vec3, Vec3, Vec3] {
  const at = (k: number): Vec3 => [corners[9 * i + k]!, corners[9 * i + k + 1]!, corners[9 * i + k + 2]!]
  return [at(0), at(3), at(6)]
}
