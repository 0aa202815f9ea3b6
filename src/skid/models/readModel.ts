import type { Model } from '../../document/types.ts'
import { checkBytes } from './limits.ts'
import { ModelError } from './modelError.ts'
import type { ReadModel } from './modelTypes.ts'
import type { ReadOptions, Tell } from './readOptions.ts'
import { countInHeader } from './stlHeader.ts'

/** The endings of each format's file names. */
export const ENDINGS: Readonly<Record<Model['format'], readonly string[]>> = {
  step: ['.step', '.stp', '.p21'],
  gltf: ['.glb', '.gltf'],
  stl: ['.stl'],
  obj: ['.obj'],
}

/**
 * Reads a model file: its parts with names, keys and triangles, in its own units and axes. The format is told by what
 * is in the file; a name that says otherwise is noted.
 *
 * @throws ModelError naming the place, what was found and what was wanted: an unknown or empty file, one past the
 *   limits, truncated or damaged, of a kind that is not read, without triangles, or with a coordinate that is no number.
 */
export async function readModel(
  bytes: Uint8Array<ArrayBuffer>,
  fileName: string,
  tell: Tell,
  options: ReadOptions,
): Promise<ReadModel> {
  if (bytes.length === 0)
    throw new ModelError('the file: found 0 bytes; wanted a STEP, glTF, STL or OBJ file')
  const format = formatOf(bytes, fileName)
  checkBytes(format, bytes.length)
  const read = await sound(format, () => readAs(format, bytes, tell, options))
  const said = formatByName(fileName)
  if (said === null || said === format) return read
  return {
    ...read,
    notes: [
      `The name ends like ${WORDS[said]} but the file is ${WORDS[format]}: it is read as that.`,
      ...read.notes,
    ],
  }
}

/** Whatever a damaged file does to its reader, it is said of the file. */
async function sound(format: Model['format'], read: () => Promise<ReadModel>): Promise<ReadModel> {
  try {
    return await read()
  } catch (error) {
    if (error instanceof ModelError || !(error instanceof RangeError)) throw error
    throw new ModelError(
      `the file: found more than memory holds (${error.message}); wanted ${WORDS[format]} of less`,
    )
  }
}

const WORDS: Readonly<Record<Model['format'], string>> = {
  step: 'a STEP file',
  gltf: 'a glTF file',
  stl: 'an STL file',
  obj: 'an OBJ file',
}

async function readAs(
  format: Model['format'],
  bytes: Uint8Array<ArrayBuffer>,
  tell: Tell,
  { stepKernel }: ReadOptions,
): Promise<ReadModel> {
  switch (format) {
    case 'step':
      return (await import('./readStep.ts')).readStep(bytes, tell, stepKernel)
    case 'gltf':
      return (await import('./readGltf.ts')).readGltf(bytes, tell)
    case 'stl':
      return (await import('./readStl.ts')).readStl(bytes, tell)
    case 'obj':
      return (await import('./readObj.ts')).readObj(bytes, tell)
  }
}

function formatByName(fileName: string): Model['format'] | null {
  const name = fileName.toLowerCase()
  for (const format of ['step', 'gltf', 'stl', 'obj'] as const)
    if (ENDINGS[format].some(ending => name.endsWith(ending))) return format
  return null
}

/** The format by the file's first bytes; where they say nothing, by its name. @throws ModelError when neither does. */
function formatOf(bytes: Uint8Array, fileName: string): Model['format'] {
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 4096)).replace(/^(ï»¿|\0)+/, '')
  const start = head.trimStart()
  if (head.startsWith('glTF')) return 'gltf'
  if (/^(\/\*[\s\S]*?\*\/\s*)*ISO-10303-21\s*;/.test(start)) return 'step'
  if (start.startsWith('{') && /"(asset|accessors|scenes?|meshes|nodes|buffers|bufferViews)"/.test(head))
    return 'gltf'
  if (/^(?:(?:#|;|\/\/|!)[^\n\r]*[\n\r]\s*)*solid\b[\s\S]*?\bfacet\b/i.test(start)) return 'stl'
  if (bytes.length >= 84 && bytes.length === 84 + 50 * countInHeader(bytes)) return 'stl'
  const named = formatByName(fileName)
  if (named) return named
  if (/^v[ \t]+[-+.\d]/m.test(head) && !head.includes('\0')) return 'obj'
  throw new ModelError(
    `the file: found neither a known beginning nor a known name ("${fileName}"); wanted STEP, glTF (.glb, .gltf), STL or OBJ`,
  )
}
