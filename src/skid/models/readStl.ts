import { gatherParts, leftOutNotes, type ModelNode } from './gatherParts.ts'
import { checkTriangles } from './limits.ts'
import { ModelError } from './modelError.ts'
import type { ReadModel } from './modelTypes.ts'
import type { Tell } from './readOptions.ts'
import { readStlText } from './readStlText.ts'
import { countInHeader } from './stlHeader.ts'

/** What a part of a format without names is called. */
const BODY = 'body'
const HEADER = 84
const TRIANGLE = 50

/**
 * Reads an STL file, text or binary. It names neither unit nor axes.
 *
 * @throws ModelError see `readModel`.
 */
export function readStl(bytes: Uint8Array, tell: Tell): ReadModel {
  const notes: string[] = []
  const top = isText(bytes) ? readStlText(bytes, BODY, tell) : [readBinary(bytes, tell, notes)]
  const { parts, flat } = gatherParts(top)
  return { format: 'stl', unitMm: null, up: null, parts, notes: [...notes, ...leftOutNotes({ flat })] }
}

/**
 * Many binary files begin with "solid" too: the length decides, then whether there is something that no text has. What
 * is a text and no STL is for the reader of texts to say.
 */
function isText(bytes: Uint8Array): boolean {
  if (bytes.length >= HEADER && bytes.length === HEADER + TRIANGLE * countInHeader(bytes)) return false
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 4096)).replace(/^ï»¿/, '')
  if (/^\s*solid\b/i.test(head) && /\bfacet\b|\bendsolid\b/i.test(head)) return true
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what tells a binary file
  return bytes.length > 0 && !/[\0-\x08\x0e-\x1f]/.test(head)
}

function readBinary(bytes: Uint8Array, tell: Tell, notes: string[]): ModelNode {
  if (bytes.length < HEADER)
    throw new ModelError(
      `the file: found ${bytes.length} bytes; wanted at least ${HEADER}, the header of a binary STL`,
    )
  const count = countInHeader(bytes)
  checkTriangles('byte 80, the count of the header', count)
  const wanted = HEADER + TRIANGLE * count
  if (bytes.length < wanted)
    throw new ModelError(
      `the file: found ${bytes.length} bytes; wanted ${wanted} for the ${count} triangles of its header: it is cut off or no STL`,
    )
  if (bytes.length > wanted)
    notes.push(`${bytes.length - wanted} bytes behind the last of ${count} triangles are not read.`)
  const data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const positions = new Float32Array(9 * count)
  const indices = new Uint32Array(3 * count)
  for (let i = 0; i < count; i++) {
    // The normal in front is not read: the corners' order says it again.
    const from = HEADER + TRIANGLE * i + 12
    for (let k = 0; k < 9; k++) positions[9 * i + k] = data.getFloat32(from + 4 * k, true)
    for (let k = 0; k < 3; k++) indices[3 * i + k] = 3 * i + k
    if (i % 100_000 === 0) tell('Reading triangles', i / count)
  }
  return { name: BODY, mesh: { positions, indices }, children: [] }
}
