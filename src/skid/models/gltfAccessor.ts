import { type GltfFile, type Json, listAt, objectAt, textAt, wholeAt } from './gltfFile.ts'
import { MOST_TRIANGLES } from './limits.ts'
import { ModelError } from './modelError.ts'

/** Bytes a component has, how it is read, and its largest value where it may stand for 1 (section 3.6.2.2). */
const COMPONENTS: ReadonlyMap<
  number,
  { bytes: number; read: (data: DataView, at: number) => number; one: number | null }
> = new Map([
  [5120, { bytes: 1, read: (d: DataView, at: number) => d.getInt8(at), one: 127 }],
  [5121, { bytes: 1, read: (d: DataView, at: number) => d.getUint8(at), one: 255 }],
  [5122, { bytes: 2, read: (d: DataView, at: number) => d.getInt16(at, true), one: 32767 }],
  [5123, { bytes: 2, read: (d: DataView, at: number) => d.getUint16(at, true), one: 65535 }],
  [5125, { bytes: 4, read: (d: DataView, at: number) => d.getUint32(at, true), one: null }],
  [5126, { bytes: 4, read: (d: DataView, at: number) => d.getFloat32(at, true), one: null }],
])

const SIZES: Readonly<Record<string, number>> = { SCALAR: 1, VEC3: 3 }
const MOST = 3 * MOST_TRIANGLES
const ANY = Number.MAX_SAFE_INTEGER

/** Reads what a file's accessors give (glTF 2.0 specification, section 3.6), never past the bytes that are theirs. */
export interface Accessors {
  /** How many elements it has, before any is read. */
  readonly count: (index: unknown, place: string) => number
  /** Every number of it, element by element. */
  readonly numbers: (index: unknown, place: string, type: 'SCALAR' | 'VEC3') => Float64Array
}

/** @throws ModelError from every answer, naming the accessor, what was found and what was wanted. */
export function accessorsOf({ json, binary }: GltfFile): Accessors {
  const accessors = listAt(json['accessors'], 'accessors')
  const views = listAt(json['bufferViews'], 'bufferViews')
  const buffers = listAt(json['buffers'], 'buffers')
  const loaded = new Map<number, Uint8Array>()

  const bufferAt = (index: number): Uint8Array => {
    const known = loaded.get(index)
    if (known) return known
    const place = `buffers[${index}]`
    const buffer = objectAt(buffers[index], place)
    const length = wholeAt(buffer['byteLength'], `${place}.byteLength`, ANY)
    const bytes = bytesOf(buffer, place, index === 0 ? binary : null)
    if (bytes.length < length)
      throw new ModelError(`${place}: found ${bytes.length} bytes; wanted ${length}: the file is cut off`)
    loaded.set(index, bytes)
    return bytes
  }

  /** Fills `out` with `count` elements of `size` from a view on. */
  const fill = (
    out: Float64Array,
    from: Json,
    place: string,
    count: number,
    size: number,
    normal: boolean,
  ) => {
    const component = COMPONENTS.get(wholeAt(from['componentType'], `${place}.componentType`, ANY))
    if (!component)
      throw new ModelError(`${place}.componentType: found ${from['componentType']}; wanted 5120 to 5126`)
    const viewAt = wholeAt(from['bufferView'], `${place}.bufferView`, views.length - 1)
    const view = objectAt(views[viewAt], `bufferViews[${viewAt}]`)
    if (view['extensions'] !== undefined && 'EXT_meshopt_compression' in objectAt(view['extensions'], place))
      throw unsupported('EXT_meshopt_compression')
    const buffer = bufferAt(wholeAt(view['buffer'], `bufferViews[${viewAt}].buffer`, buffers.length - 1))
    const start = wholeAt(view['byteOffset'], `bufferViews[${viewAt}].byteOffset`, ANY, 0)
    const length = wholeAt(view['byteLength'], `bufferViews[${viewAt}].byteLength`, ANY)
    if (start + length > buffer.length)
      throw new ModelError(
        `bufferViews[${viewAt}]: found bytes ${start} to ${start + length}; wanted them within the buffer's ${buffer.length}`,
      )
    const element = component.bytes * size
    const stride = wholeAt(view['byteStride'], `bufferViews[${viewAt}].byteStride`, ANY, 0) || element
    const first = wholeAt(from['byteOffset'], `${place}.byteOffset`, ANY, 0)
    const needed = count === 0 ? 0 : first + stride * (count - 1) + element
    if (needed > length)
      throw new ModelError(`${place}: found ${length} bytes for it; wanted ${needed} for ${count} elements`)
    const data = new DataView(buffer.buffer, buffer.byteOffset + start, length)
    const by = normal && component.one !== null ? 1 / component.one : 1
    for (let i = 0; i < count; i++)
      for (let k = 0; k < size; k++) {
        const value = component.read(data, first + i * stride + k * component.bytes)
        // Section 3.6.2.2: the lowest integer stands for −1, too.
        out[i * size + k] = by === 1 ? value : Math.max(value * by, -1)
      }
  }

  const accessorAt = (index: unknown, place: string) => {
    const at = wholeAt(index, place, accessors.length - 1)
    return { name: `accessors[${at}]`, accessor: objectAt(accessors[at], `accessors[${at}]`) }
  }
  const count = (index: unknown, place: string): number => {
    const { name, accessor } = accessorAt(index, place)
    return wholeAt(accessor['count'], `${name}.count`, MOST)
  }

  return {
    count,
    numbers: (index, place, type) => {
      const { name, accessor } = accessorAt(index, place)
      if (accessor['type'] !== type)
        throw new ModelError(`${name}.type: found ${JSON.stringify(accessor['type'])}; wanted "${type}"`)
      const size = SIZES[type]!
      const n = count(index, place)
      const out = new Float64Array(size * n)
      const normal = accessor['normalized'] === true
      if (accessor['bufferView'] !== undefined) fill(out, accessor, name, n, size, normal)
      if (accessor['sparse'] === undefined) return out
      const sparse = objectAt(accessor['sparse'], `${name}.sparse`)
      const changed = wholeAt(sparse['count'], `${name}.sparse.count`, n)
      const places = new Float64Array(changed)
      const values = new Float64Array(size * changed)
      const where = objectAt(sparse['indices'], `${name}.sparse.indices`)
      fill(places, where, `${name}.sparse.indices`, changed, 1, false)
      const given = {
        ...objectAt(sparse['values'], `${name}.sparse.values`),
        componentType: accessor['componentType'],
      }
      fill(values, given, `${name}.sparse.values`, changed, size, normal)
      for (let i = 0; i < changed; i++)
        for (let k = 0; k < size; k++)
          out[wholeAt(places[i], `${name}.sparse.indices`, n - 1) * size + k] = values[i * size + k]!
      return out
    },
  }
}

export const unsupported = (extension: string): ModelError =>
  new ModelError(
    `the extension ${extension}: found it needed; wanted a file without it${/draco|meshopt/i.test(extension) ? ', written without compression' : ''}`,
  )

function bytesOf(buffer: Json, place: string, binary: Uint8Array | null): Uint8Array {
  const uri = buffer['uri']
  if (uri === undefined) {
    if (binary) return binary
    throw new ModelError(`${place}: found no data; wanted a binary chunk or a "data:" address`)
  }
  const text = textAt(uri)
  if (!text.startsWith('data:'))
    throw new ModelError(
      `${place}: found its data in another file, "${decoded(text).slice(0, 200)}"; wanted it in the file itself: write it as .glb or with embedded data`,
    )
  const comma = text.indexOf(',')
  try {
    if (!text.slice(0, comma).endsWith(';base64')) throw new Error('no base64')
    const binaryText = atob(text.slice(comma + 1))
    const bytes = new Uint8Array(binaryText.length)
    for (let i = 0; i < bytes.length; i++) bytes[i] = binaryText.charCodeAt(i)
    return bytes
  } catch {
    throw new ModelError(`${place}.uri: found data that is no base64; wanted "data:…;base64,…"`)
  }
}

function decoded(uri: string): string {
  try {
    return decodeURIComponent(uri)
  } catch {
    return uri
  }
}
