import { ModelError } from './modelError.ts'

export type Json = Readonly<Record<string, unknown>>

/** A glTF file taken apart: its description, and the binary piece behind it where it is a GLB. */
export interface GltfFile {
  readonly json: Json
  readonly binary: Uint8Array | null
}

const JSON_CHUNK = 0x4e4f534a
const BINARY_CHUNK = 0x004e4942

/**
 * Takes a .gltf or .glb file apart (glTF 2.0 specification, section 4.4 for the container).
 *
 * @throws ModelError when it is cut off, of another version, or its description is no JSON.
 */
export function gltfFile(bytes: Uint8Array): GltfFile {
  const data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const isBinary = bytes.length >= 4 && data.getUint32(0, true) === 0x46546c67
  if (!isBinary) return { json: description(bytes), binary: null }
  if (bytes.length < 20)
    throw new ModelError(`the header: found ${bytes.length} bytes; wanted at least 20: the file is cut off`)
  const version = data.getUint32(4, true)
  if (version !== 2) throw new ModelError(`byte 4, the version: found ${version}; wanted 2`)
  const length = data.getUint32(8, true)
  if (length > bytes.length)
    throw new ModelError(
      `the file: found ${bytes.length} bytes; wanted ${length} as its header says: it is cut off`,
    )
  let json: Json | null = null
  let binary: Uint8Array | null = null
  for (let at = 12; at + 8 <= length; ) {
    const size = data.getUint32(at, true)
    const kind = data.getUint32(at + 4, true)
    if (at + 8 + size > length)
      throw new ModelError(
        `byte ${at}, a chunk: found ${length - at - 8} bytes behind it; wanted ${size} as it says: the file is damaged`,
      )
    const chunk = bytes.subarray(at + 8, at + 8 + size)
    if (at === 12) {
      if (kind !== JSON_CHUNK)
        throw new ModelError('byte 16, the first chunk: found no description; wanted JSON there')
      json = description(chunk)
    } else if (kind === BINARY_CHUNK) binary ??= chunk
    at += 8 + size
  }
  if (!json) throw new ModelError('the file: found no description; wanted a JSON chunk')
  return { json, binary }
}

function description(bytes: Uint8Array): Json {
  let json: unknown
  try {
    json = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes))
  } catch (error) {
    throw new ModelError(
      `the description: found no JSON (${error instanceof Error ? error.message : error}); wanted glTF 2.0`,
    )
  }
  const top = objectAt(json, 'the description')
  const version = objectAt(top['asset'], 'asset')['version']
  if (typeof version !== 'string' || !/^2(\.\d+)?$/.test(version))
    throw new ModelError(`asset.version: found ${shown(version)}; wanted "2.0"`)
  return top
}

const shown = (value: unknown): string => (JSON.stringify(value) ?? 'nothing').slice(0, 60)

/** @throws ModelError when the value is no object. */
export function objectAt(value: unknown, place: string): Json {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value as Json
  throw new ModelError(`${place}: found ${shown(value)}; wanted an object`)
}

/** The list, empty when it is left out. @throws ModelError when it is something else. */
export function listAt(value: unknown, place: string): readonly unknown[] {
  if (value === undefined) return []
  if (Array.isArray(value)) return value
  throw new ModelError(`${place}: found ${shown(value)}; wanted a list`)
}

/** A whole number from 0 to `most`; `otherwise` when it is left out. @throws ModelError when it is something else. */
export function wholeAt(value: unknown, place: string, most: number, otherwise?: number): number {
  if (value === undefined && otherwise !== undefined) return otherwise
  if (typeof value === 'number' && Number.isInteger(value) && value >= 0 && value <= most) return value
  throw new ModelError(`${place}: found ${shown(value)}; wanted a whole number from 0 to ${most}`)
}

/** So many finite numbers. @throws ModelError when they are something else. */
export function numbersAt(value: unknown, place: string, count: number): readonly number[] {
  if (Array.isArray(value) && value.length === count && value.every(x => Number.isFinite(x))) return value
  throw new ModelError(`${place}: found ${shown(value)}; wanted ${count} finite numbers`)
}

/** Text, '' when it is left out or something else: names are not worth a refusal. */
export const textAt = (value: unknown): string => (typeof value === 'string' ? value : '')
