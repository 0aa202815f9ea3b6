import type { TriangleTree } from './triangleTree.ts'
import { unit, type Vec3 } from './vec3.ts'

/** Three odd directions: a ray that grazes an edge in one of them does not in the others. */
const WAYS: readonly Vec3[] = [
  [0.7548, 0.5698, 0.3247],
  [-0.4142, 0.7321, 0.5408],
  [0.2361, -0.618, 0.7499],
].map(v => unit(v as unknown as Vec3)!)

/**
 * Whether a point lies inside a mesh: by counting how often a ray crosses it, in three directions. True or false
 * when all three agree, null when they do not: then the mesh is open and has no inside to speak of.
 */
export function isInside(mesh: TriangleTree, p: Vec3): boolean | null {
  const [a, b, c] = WAYS.map(way => crossings(mesh, p, way) % 2 === 1)
  return a === b && b === c ? a! : null
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
      if (rayMeetsTriangle(corners, 9 * order[i]!, p, way)) crossed++
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

/** Möller and Trumbore (1997, from memory). */
function rayMeetsTriangle(c: Float64Array, at: number, p: Vec3, way: Vec3): boolean {
  const ex = c[at + 3]! - c[at]!
  const ey = c[at + 4]! - c[at + 1]!
  const ez = c[at + 5]! - c[at + 2]!
  const fx = c[at + 6]! - c[at]!
  const fy = c[at + 7]! - c[at + 1]!
  const fz = c[at + 8]! - c[at + 2]!
  const hx = way[1] * fz - way[2] * fy
  const hy = way[2] * fx - way[0] * fz
  const hz = way[0] * fy - way[1] * fx
  const det = ex * hx + ey * hy + ez * hz
  if (det === 0) return false
  const sx = p[0] - c[at]!
  const sy = p[1] - c[at + 1]!
  const sz = p[2] - c[at + 2]!
  const u = (sx * hx + sy * hy + sz * hz) / det
  if (u < 0 || u > 1) return false
  const qx = sy * ez - sz * ey
  const qy = sz * ex - sx * ez
  const qz = sx * ey - sy * ex
  const v = (way[0] * qx + way[1] * qy + way[2] * qz) / det
  if (v < 0 || u + v > 1) return false
  return (fx * qx + fy * qy + fz * qz) / det > 0
}
