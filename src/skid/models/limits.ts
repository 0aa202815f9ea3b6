import { ModelError } from './modelError.ts'

const MB = 1_000_000

/** Bytes a file of each format may have. STL and STEP as agreed for this program; the others our own choice. */
export const MOST_BYTES = { step: 50 * MB, stl: 200 * MB, gltf: 200 * MB, obj: 200 * MB } as const

/** Triangles a file may have over all its parts. */
export const MOST_TRIANGLES = 4_000_000

/** Parts a file may have: each is a row in the tree of parts. Our own choice. */
export const MOST_PARTS = 20_000

/** No coordinate may lie further from the file's origin than this, mm: ten kilometres are no skid. */
export const FURTHEST_MM = 1e7

const shown = (n: number): string => n.toLocaleString('en-GB')

/** @throws ModelError when the file is longer than its format may be. To be asked before anything is read. */
export function checkBytes(format: keyof typeof MOST_BYTES, bytes: number): void {
  const most = MOST_BYTES[format]
  if (bytes > most)
    throw new ModelError(`the file: found ${shown(bytes)} bytes; wanted at most ${shown(most)}`)
}

/** @throws ModelError when there are more triangles than are taken. To be asked before memory is. */
export function checkTriangles(place: string, triangles: number): void {
  if (triangles > MOST_TRIANGLES)
    throw new ModelError(
      `${place}: found ${shown(triangles)} triangles; wanted at most ${shown(MOST_TRIANGLES)}`,
    )
}

/** @throws ModelError when there are more parts than are taken. */
export function checkParts(parts: number): void {
  if (parts > MOST_PARTS)
    throw new ModelError(`the file: found more than ${shown(MOST_PARTS)} parts; wanted at most that many`)
}
