/** A .gltf text of one tetrahedron, its data inside; `change` may break any of it before it is written. */
export interface LooseGltf {
  // biome-ignore lint/suspicious/noExplicitAny: tests break it in every way
  [key: string]: any
}

const CORNERS = [0, 0, 0, 1, 0, 0, 0, 2, 0, 0, 0, 3]
const FACES = [0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3]

export const tetrahedron = (): { json: LooseGltf; bytes: Uint8Array } => {
  const bytes = new Uint8Array(48 + 12)
  bytes.set(new Uint8Array(Float32Array.from(CORNERS).buffer))
  bytes.set(FACES, 48)
  return {
    bytes,
    json: {
      asset: { version: '2.0' },
      scene: 0,
      scenes: [{ nodes: [0] }],
      nodes: [{ name: 'Wedge', mesh: 0 }],
      meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1 }] }],
      accessors: [
        { bufferView: 0, componentType: 5126, count: 4, type: 'VEC3' },
        { bufferView: 1, componentType: 5121, count: 12, type: 'SCALAR' },
      ],
      bufferViews: [
        { buffer: 0, byteLength: 48 },
        { buffer: 0, byteOffset: 48, byteLength: 12 },
      ],
      buffers: [{ byteLength: 60 }],
    },
  }
}

export function gltfText(change: (json: LooseGltf) => void = () => {}): string {
  const { json, bytes } = tetrahedron()
  json['buffers'][0].uri = `data:application/octet-stream;base64,${Buffer.from(bytes).toString('base64')}`
  change(json)
  return JSON.stringify(json)
}

/** The same as a GLB; chunks are padded as the specification wants them. */
export function glbBytes(change: (json: LooseGltf) => void = () => {}): Uint8Array<ArrayBuffer> {
  const { json, bytes } = tetrahedron()
  change(json)
  let text = JSON.stringify(json)
  text += ' '.repeat((4 - (Buffer.byteLength(text) % 4)) % 4)
  const description = Buffer.from(text)
  const out = Buffer.alloc(12 + 8 + description.length + 8 + bytes.length)
  const words = [0x46546c67, 2, out.length, description.length, 0x4e4f534a]
  words.forEach((word, i) => {
    out.writeUInt32LE(word, 4 * i)
  })
  description.copy(out, 20)
  const at = 20 + description.length
  out.writeUInt32LE(bytes.length, at)
  out.writeUInt32LE(0x004e4942, at + 4)
  out.set(bytes, at + 8)
  return new Uint8Array(out)
}
