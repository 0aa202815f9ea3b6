import { checkParts, checkTriangles } from './limits.ts'
import { ModelError } from './modelError.ts'
import type { ModelPartMesh } from './modelTypes.ts'
import { childKeys, shownName } from './partKeys.ts'

/** One node of a file's tree, its transform applied to what it holds. */
export interface ModelNode {
  readonly name: string
  readonly mesh: {
    readonly positions: Float32Array | Float64Array
    readonly indices: Uint32Array
  } | null
  readonly children: readonly ModelNode[]
}

/**
 * The file's parts with their names and keys, top down, triangles without area left out.
 *
 * @returns the parts, and how many triangles had no area.
 * @throws ModelError naming the part and the vertex of a coordinate that is not finite or an index that no vertex
 *   has; when there are too many parts or triangles; when there is no triangle at all.
 */
export function gatherParts(top: readonly ModelNode[]): { parts: ModelPartMesh[]; flat: number } {
  const parts: ModelPartMesh[] = []
  let flat = 0
  let triangles = 0
  const topKeys = childKeys('')
  const open = top
    .map(node => ({ node, names: [shownName(node.name)], key: topKeys(shownName(node.name)) }))
    .reverse()
  while (open.length > 0) {
    const { node, names, key } = open.pop()!
    if (node.mesh) {
      const { positions } = node.mesh
      const { indices, dropped } = withArea(names.join(' / '), positions, node.mesh.indices)
      flat += dropped
      triangles += indices.length / 3
      checkTriangles('the file', triangles)
      if (indices.length > 0) parts.push({ key, names, positions, indices })
      checkParts(parts.length)
    }
    const keyOf = childKeys(key)
    const below = node.children.map(child => {
      const name = shownName(child.name)
      return { node: child, names: [...names, name], key: keyOf(name) }
    })
    open.push(...below.reverse())
  }
  if (parts.length === 0)
    throw new ModelError(
      `the file: found no triangles${flat > 0 ? ` but ${flat} without area` : ''}; wanted at least one`,
    )
  return { parts, flat }
}

function withArea(
  place: string,
  positions: Float32Array | Float64Array,
  indices: Uint32Array,
): { indices: Uint32Array; dropped: number } {
  const vertices = positions.length / 3
  for (let i = 0; i < positions.length; i++)
    if (!Number.isFinite(positions[i]!))
      throw new ModelError(
        `part "${place}", vertex ${Math.floor(i / 3) + 1}: found coordinate ${positions[i]}; wanted a finite number`,
      )
  const kept = new Uint32Array(indices.length)
  let n = 0
  for (let i = 0; i + 2 < indices.length; i += 3) {
    const [a, b, c] = [indices[i]!, indices[i + 1]!, indices[i + 2]!]
    const beyond = Math.max(a, b, c)
    if (beyond >= vertices)
      throw new ModelError(
        `part "${place}", triangle ${i / 3 + 1}: found vertex number ${beyond + 1}; wanted at most ${vertices}`,
      )
    if (!hasArea(positions, 3 * a, 3 * b, 3 * c)) continue
    kept[n] = a
    kept[n + 1] = b
    kept[n + 2] = c
    n += 3
  }
  if (n === indices.length) return { indices, dropped: 0 }
  return { indices: kept.slice(0, n), dropped: (indices.length - n) / 3 }
}

/** False when two corners coincide or all three are in line exactly; a thin triangle is a triangle. */
function hasArea(p: Float32Array | Float64Array, a: number, b: number, c: number): boolean {
  const ux = p[b]! - p[a]!
  const uy = p[b + 1]! - p[a + 1]!
  const uz = p[b + 2]! - p[a + 2]!
  const vx = p[c]! - p[a]!
  const vy = p[c + 1]! - p[a + 1]!
  const vz = p[c + 2]! - p[a + 2]!
  return uy * vz !== uz * vy || uz * vx !== ux * vz || ux * vy !== uy * vx
}

/** Mirrored transforms turn triangles inside out: swapping two corners keeps the outside outside. Changes in place. */
export function turnOver(indices: Uint32Array): void {
  for (let i = 0; i + 2 < indices.length; i += 3) {
    const b = indices[i + 1]!
    indices[i + 1] = indices[i + 2]!
    indices[i + 2] = b
  }
}

/** What was left out, as sentences; nothing for a count of 0. */
export function leftOutNotes(counts: { flat: number; lines?: number; points?: number }): string[] {
  const { flat, lines = 0, points = 0 } = counts
  const say = (n: number, one: string, many: string) =>
    n === 0
      ? []
      : [`${n.toLocaleString('en-GB')} ${n === 1 ? one : many} left out: only surfaces are measured.`]
  return [
    ...say(lines, 'line is', 'lines are'),
    ...say(points, 'loose point is', 'loose points are'),
    ...(flat === 0
      ? []
      : [
          `${flat.toLocaleString('en-GB')} ${flat === 1 ? 'triangle' : 'triangles'} without area ${flat === 1 ? 'is' : 'are'} left out.`,
        ]),
  ]
}
