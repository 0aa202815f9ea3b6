import { type TriangleTree, triangleAt } from '../../geometry/triangleTree.ts'
import { cross, distance, dot, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import type { PlacedFrame } from '../../skid/models/placement.ts'
import { type Frame, onPaper } from '../views.ts'
import type { At } from './outlines.ts'

/** A triangle of a mesh as it is seen, and its sides that are worth a line. */
export interface SeenTriangle {
  readonly corners: readonly [At, At, At]
  /** Of each corner towards the eye, mm. */
  readonly depths: readonly [number, number, number]
  /** Silhouettes and creases: pairs of corners. */
  readonly lines: readonly (readonly [At, At])[]
}

/** No picture has more triangles of one mesh than this: those nearest to the gap. */
export const MOST_TRIANGLES = 2500
/** Neighbours whose faces turn by more than this are a crease, cosine of 20°. */
const CREASE = Math.cos((20 * Math.PI) / 180)

/** The triangles of a mesh within `radius` mm of a point that face the eye; `left` counts those there was no room for. */
export function meshLines(
  { tree, frame: placed }: { readonly tree: TriangleTree; readonly frame: PlacedFrame },
  at: Vec3,
  radius: number,
  frame: Frame,
): { readonly triangles: SeenTriangle[]; readonly left: number } {
  const found = trianglesNear(tree, placed.toModel(at), radius)
  const kept = found
    .slice(0, MOST_TRIANGLES)
    .map(({ corners }) => ({ corners: corners.map(placed.toSkid) as [Vec3, Vec3, Vec3] }))
  const { eye } = frame.view
  const faces = kept.flatMap(({ corners }) => {
    const normal = unit(cross(sub(corners[1], corners[0]), sub(corners[2], corners[0])))
    return normal ? [{ corners, normal, facing: dot(normal, eye) }] : []
  })
  // Corners are doubles of the same file's floats: equal ones are the same corner.
  const key = (a: Vec3, b: Vec3) => {
    const [p, q] = [a.join(), b.join()]
    return p < q ? `${p}|${q}` : `${q}|${p}`
  }
  const sides = new Map<string, number[]>()
  faces.forEach(({ corners }, f) => {
    for (const k of [0, 1, 2] as const) {
      const id = key(corners[k], corners[((k + 1) % 3) as 0 | 1 | 2])
      const have = sides.get(id)
      if (have) have.push(f)
      else sides.set(id, [f])
    }
  })
  const wanted = (f: number, id: string): boolean => {
    const others = sides.get(id)!.filter(g => g !== f)
    if (others.length !== 1) return true
    const [me, other] = [faces[f]!, faces[others[0]!]!]
    return me.facing * other.facing < 0 || dot(me.normal, other.normal) < CREASE
  }
  const triangles = faces.flatMap(({ corners, facing }, f): SeenTriangle[] => {
    // A mesh that is not closed shows its inside: a face turned away is drawn where nothing lies before it.
    if (Math.abs(facing) < 1e-9) return []
    const seen = corners.map(c => onPaper(frame, c)) as [At, At, At]
    const lines = ([0, 1, 2] as const).flatMap((k): (readonly [At, At])[] => {
      const next = ((k + 1) % 3) as 0 | 1 | 2
      return wanted(f, key(corners[k], corners[next])) ? [[seen[k], seen[next]]] : []
    })
    return [{ corners: seen, depths: corners.map(c => dot(eye, c)) as [number, number, number], lines }]
  })
  return { triangles, left: found.length - kept.length }
}

/** Triangles in the tree's own frame, nearest first. */
function trianglesNear(tree: TriangleTree, at: Vec3, radius: number) {
  const found: { corners: readonly [Vec3, Vec3, Vec3]; off: number }[] = []
  const open = [0]
  while (open.length > 0) {
    const node = open.pop()!
    let off = 0
    for (const k of [0, 1, 2] as const)
      off += Math.max(tree.boxes[6 * node + k]! - at[k], 0, at[k] - tree.boxes[6 * node + 3 + k]!) ** 2
    if (off > radius * radius) continue
    const down = tree.child[node]!
    if (down !== 0) {
      open.push(down, down + 1)
      continue
    }
    for (let i = tree.first[node]!; i < tree.first[node]! + tree.count[node]!; i++) {
      const corners = triangleAt(tree, tree.order[i]!)
      found.push({ corners, off: Math.min(...corners.map(c => distance(c, at))) })
    }
  }
  return found.sort((a, b) => a.off - b.off)
}

/** True when the triangle lies between the eye and something at `depth` that is seen at `p`. */
export function covers({ corners: [a, b, c], depths }: SeenTriangle, p: At, depth: number): boolean {
  const area = (q: At, r: At, s: At) => (r[0] - q[0]) * (s[1] - q[1]) - (r[1] - q[1]) * (s[0] - q[0])
  const whole = area(a, b, c)
  if (Math.abs(whole) < 1e-12) return false
  const [u, v] = [area(p, b, c) / whole, area(a, p, c) / whole]
  const w = 1 - u - v
  if (u < 0 || v < 0 || w < 0) return false
  return u * depths[0] + v * depths[1] + w * depths[2] > depth
}
