import type { SolidTube } from './solidTubes.ts'
import { DEFAULT_CHORD_ERROR, tubeMesh } from './tubeMesh.ts'

const HEADER = 12
const CHUNK = 8

/**
 * Binary glTF 2.0 of the tubes, one named node each. glTF is in metres with +y up, so skid (x, y, z) mm becomes
 * (x, z, −y)/1000; each mesh lies around its own end A so that single precision stays under a thousandth of a
 * millimetre. OD, wall, material and length in mm are in the node's extras.
 */
export function writeGlb(tubes: readonly SolidTube[], chordError = DEFAULT_CHORD_ERROR): Uint8Array {
  const parts: Uint8Array[] = []
  let filled = 0
  const bufferViews: object[] = []
  const accessors: object[] = []
  const view = (data: Float32Array | Uint32Array, target: number): number => {
    const bytes = new Uint8Array(data.buffer)
    parts.push(bytes)
    bufferViews.push({ buffer: 0, byteOffset: filled, byteLength: bytes.length, target })
    filled += bytes.length
    return bufferViews.length - 1
  }
  const accessor = (entry: object): number => accessors.push(entry) - 1

  const meshes: object[] = []
  const nodes: object[] = []
  for (const tube of tubes) {
    const mesh = tubeMesh(tube, chordError)
    const origin = tube.pieces[0]!.start
    const count = mesh.positions.length
    const at = new Float32Array(3 * count)
    const out = new Float32Array(3 * count)
    const min = [Infinity, Infinity, Infinity]
    const max = [-Infinity, -Infinity, -Infinity]
    mesh.positions.forEach((p, i) => {
      const [x, y, z] = [p[0] - origin[0], p[1] - origin[1], p[2] - origin[2]]
      at.set([x / 1000, z / 1000, -y / 1000], 3 * i)
      const n = mesh.normals[i]!
      out.set([n[0], n[2], -n[1]], 3 * i)
      for (let k = 0; k < 3; k++) {
        min[k] = Math.min(min[k]!, at[3 * i + k]!)
        max[k] = Math.max(max[k]!, at[3 * i + k]!)
      }
    })
    const position = accessor({
      bufferView: view(at, 34962),
      componentType: 5126,
      count,
      type: 'VEC3',
      min,
      max,
    })
    const normal = accessor({ bufferView: view(out, 34962), componentType: 5126, count, type: 'VEC3' })
    const indices = accessor({
      bufferView: view(Uint32Array.from(mesh.indices), 34963),
      componentType: 5125,
      count: mesh.indices.length,
      type: 'SCALAR',
    })
    meshes.push({
      name: tube.tag,
      primitives: [{ attributes: { POSITION: position, NORMAL: normal }, indices, material: 0 }],
    })
    nodes.push({
      name: tube.tag,
      mesh: meshes.length - 1,
      translation: [origin[0] / 1000, origin[2] / 1000, -origin[1] / 1000],
      extras: { odMm: tube.od, wallMm: tube.wall, material: tube.material, lengthMm: tube.length },
    })
  }
  const json = {
    asset: { version: '2.0', generator: 'Dogleg', extras: { chordErrorMm: chordError } },
    scene: 0,
    scenes: [{ nodes: nodes.map((_, i) => i) }],
    nodes,
    meshes,
    materials: [
      {
        name: 'tube',
        pbrMetallicRoughness: {
          baseColorFactor: [0.72, 0.74, 0.76, 1],
          metallicFactor: 0.6,
          roughnessFactor: 0.4,
        },
      },
    ],
    buffers: [{ byteLength: filled }],
    bufferViews,
    accessors,
  }
  return pack(new TextEncoder().encode(JSON.stringify(json)), parts, filled)
}

/** JSON chunk padded with spaces, binary chunk already a multiple of four. */
function pack(json: Uint8Array, parts: readonly Uint8Array[], filled: number): Uint8Array {
  const jsonLength = Math.ceil(json.length / 4) * 4
  const total = HEADER + CHUNK + jsonLength + CHUNK + filled
  const bytes = new Uint8Array(total)
  const view = new DataView(bytes.buffer)
  const words = [0x46546c67, 2, total, jsonLength, 0x4e4f534a]
  words.forEach((w, i) => {
    view.setUint32(4 * i, w, true)
  })
  bytes.fill(0x20, HEADER + CHUNK, HEADER + CHUNK + jsonLength)
  bytes.set(json, HEADER + CHUNK)
  let at = HEADER + CHUNK + jsonLength
  view.setUint32(at, filled, true)
  view.setUint32(at + 4, 0x004e4942, true)
  at += CHUNK
  for (const part of parts) {
    bytes.set(part, at)
    at += part.length
  }
  return bytes
}
