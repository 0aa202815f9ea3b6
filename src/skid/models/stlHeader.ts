/** Triangles that a binary STL's header says it has. */
export const countInHeader = (bytes: Uint8Array): number =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(80, true)
