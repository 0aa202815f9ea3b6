import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { ModelPartMesh, ReadModel } from '../../../src/skid/models/modelTypes.ts'
import { readModel } from '../../../src/skid/models/readModel.ts'

const wasm = createRequire(import.meta.url).resolve('occt-import-js/dist/occt-import-js.wasm')

/** Reads a file's bytes as Node does. */
export const readHere = (bytes: Uint8Array | string, fileName: string): Promise<ReadModel> =>
  readModel(
    new Uint8Array(typeof bytes === 'string' ? new TextEncoder().encode(bytes) : bytes),
    fileName,
    () => {},
    { stepKernel: async () => new Uint8Array(readFileSync(wasm)) },
  )

/** The reason for which a file is refused, '' when it is read. */
export async function refusal(bytes: Uint8Array | string, fileName: string): Promise<string> {
  try {
    await readHere(bytes, fileName)
    return ''
  } catch (error) {
    if (error instanceof Error && error.name === 'ModelError') return error.message
    throw error
  }
}

/** Volume inside the triangles, in cubed units of the file; positive when they face outwards (divergence theorem). */
export function volumeOf({ positions: p, indices }: Pick<ModelPartMesh, 'positions' | 'indices'>): number {
  let six = 0
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [3 * indices[i]!, 3 * indices[i + 1]!, 3 * indices[i + 2]!]
    six +=
      p[a]! * (p[b + 1]! * p[c + 2]! - p[b + 2]! * p[c + 1]!) -
      p[a + 1]! * (p[b]! * p[c + 2]! - p[b + 2]! * p[c]!) +
      p[a + 2]! * (p[b]! * p[c + 1]! - p[b + 1]! * p[c]!)
  }
  return six / 6
}

/** Corners of each triangle one behind another: what two readers of one file must agree on. */
export const cornersOf = ({ positions, indices }: Pick<ModelPartMesh, 'positions' | 'indices'>): number[] =>
  Array.from(indices).flatMap(v => [positions[3 * v]!, positions[3 * v + 1]!, positions[3 * v + 2]!])
