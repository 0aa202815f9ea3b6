import type { SolidTube } from './solidTubes.ts'
import { DEFAULT_CHORD_ERROR, triangleNormal, tubeMesh } from './tubeMesh.ts'

/**
 * Binary STL of the tubes, mm, skid frame (+z up). The header says the unit and the chord error, which STL cannot.
 * Written from the format's public description: 80 bytes, a count, and 50 bytes a triangle, little-endian.
 */
export function writeStl(tubes: readonly SolidTube[], chordError = DEFAULT_CHORD_ERROR): Uint8Array {
  const meshes = tubes.map(t => tubeMesh(t, chordError))
  const triangles = meshes.reduce((n, m) => n + m.indices.length / 3, 0)
  const bytes = new Uint8Array(84 + 50 * triangles)
  // Not "solid" first: readers take that word for the text form.
  bytes.set(new TextEncoder().encode(`binary STL, mm, chord error ${chordError} mm`).subarray(0, 80))
  const view = new DataView(bytes.buffer)
  view.setUint32(80, triangles, true)
  let at = 84
  for (const { positions, indices } of meshes)
    for (let t = 0; t < indices.length; t += 3) {
      const corners = [
        positions[indices[t]!]!,
        positions[indices[t + 1]!]!,
        positions[indices[t + 2]!]!,
      ] as const
      for (const v of [triangleNormal(...corners), ...corners])
        for (const x of v) {
          view.setFloat32(at, x, true)
          at += 4
        }
      at += 2
    }
  return bytes
}
