import type { Triangles } from './tubeBuffers.ts'

/** Meshes as one, in their order. */
export function together(meshes: readonly Triangles[]): Triangles {
  const sum = (length: (m: Triangles) => number) => meshes.reduce((n, m) => n + length(m), 0)
  const positions = new Float32Array(sum(m => m.positions.length))
  const normals = new Float32Array(positions.length)
  const index = new Uint32Array(sum(m => m.index.length))
  let [vertex, corner] = [0, 0]
  for (const mesh of meshes) {
    positions.set(mesh.positions, 3 * vertex)
    normals.set(mesh.normals, 3 * vertex)
    const first = vertex
    index.set(
      mesh.index.map(i => i + first),
      corner,
    )
    vertex += mesh.positions.length / 3
    corner += mesh.index.length
  }
  return { positions, normals, index }
}
