/** An invented skin of `side` × `side` mm in two triangles a cell, waved like a cast housing, around z = 0. */
export function waveMesh(cells: number, side: number): { positions: Float32Array; indices: Uint32Array } {
  const n = cells + 1
  const positions = new Float32Array(3 * n * n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      const x = side * (i / cells - 0.5)
      const y = side * (j / cells - 0.5)
      const z = 25 * Math.sin(x / 37) * Math.cos(y / 53) + 4 * Math.sin(x / 5 + y / 7)
      positions.set([x, y, z], 3 * (i * n + j))
    }
  const indices = new Uint32Array(6 * cells * cells)
  for (let i = 0; i < cells; i++)
    for (let j = 0; j < cells; j++) {
      const a = i * n + j
      indices.set([a, a + n, a + 1, a + 1, a + n, a + n + 1], 6 * (i * cells + j))
    }
  return { positions, indices }
}
