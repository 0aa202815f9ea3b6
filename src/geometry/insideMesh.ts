import { rayMeetsTriangle } from './rayMeetsTriangle.ts'
import type { TriangleTree } from './triangleTree.ts'
import { negate, unit, type Vec3 } from './vec3.ts'

/** Three odd directions: a ray that grazes an edge in one of them does not in the others. */
const WAYS: readonly Vec3[] = [
  [0.7548, 0.5698, 0.3247],
  [-0.4142, 0.7321, 0.5408],
  [0.2361, -0.618, 0.7499],
].map(v => unit(v as unknown as Vec3)!)

/** Nearly along the axes, where pipes and frames are open: not quite, so that no ray runs along an edge. */
const NEARLY_ALONG: readonly Vec3[] = [
  [1, 0.0137, 0.0091],
  [0.0113, 1, -0.0079],
  [-0.0083, 0.0127, 1],
].flatMap(v => [v, v.map(x => -x)].map(w => unit(w as unknown as Vec3)!))

/**
 * Whether a point lies inside a mesh: by counting how often a ray crosses it, in three directions. True or false
 * when all three agree, null when they do not: then the mesh is open and has no inside to speak of. A sheet or a pipe
 * without ends can be crossed by all three as well: so inside is only what rays along the axes and most of the opposite
 * ones confirm.
 */
export function isInside(mesh: TriangleTree, p: Vec3): boolean | null {
  const isOdd = (way: Vec3) => crossings(mesh, p, way) % 2 === 1
  const [first, ...others] = WAYS
  const inside = isOdd(first!)
  if (others.some(way => isOdd(way) !== inside)) return null
  if (!inside) return false
  const isConfirmed = WAYS.filter(way => isOdd(negate(way))).length >= 2 && NEARLY_ALONG.every(isOdd)
  return isConfirmed || null
}

function crossings(mesh: TriangleTree, p: Vec3, way: Vec3): number {
  const { boxes, child, first, count, order, corners } = mesh
  let crossed = 0
  const open = [0]
  while (open.length > 0) {
    const node = open.pop()!
    if (!rayMeetsBox(boxes, 6 * node, p, way)) continue
    const down = child[node]!
    if (down !== 0) {
      open.push(down, down + 1)
      continue
    }
    const from = first[node]!
    for (let i = from; i < from + count[node]!; i++)
      if (rayMeetsTriangle(corners, 9 * order[i]!, p, way, 0) < Infinity) crossed++
  }
  return crossed
}

function rayMeetsBox(boxes: Float64Array, at: number, p: Vec3, way: Vec3): boolean {
  let near = 0
  let far = Infinity
  for (const k of [0, 1, 2] as const) {
    const s = (boxes[at + k]! - p[k]) / way[k]
    const t = (boxes[at + 3 + k]! - p[k]) / way[k]
    near = Math.max(near, Math.min(s, t))
    far = Math.min(far, Math.max(s, t))
  }
  return near <= far
}
