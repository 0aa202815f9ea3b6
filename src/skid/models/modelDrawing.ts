import type { Model } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import type { ReadModel } from './modelTypes.ts'

/** A part in the merged arrays of its model. Lengths mm, in the model's own frame. */
export interface DrawnPart {
  readonly key: string
  readonly names: readonly string[]
  /** Its corners in `indices`: three a triangle. */
  readonly from: number
  readonly count: number
  readonly low: Vec3
  readonly high: Vec3
}

/** All parts of a file in one pair of arrays, in millimetres and +z up, for drawing only. */
export interface ModelDrawing {
  readonly parts: readonly DrawnPart[]
  /** x, y, z of each vertex about `origin`: single precision is fine near 0 and coarse far from it. */
  readonly positions: Float32Array
  readonly indices: Uint32Array
  readonly origin: Vec3
  readonly low: Vec3
  readonly high: Vec3
}

interface Box {
  low: [number, number, number]
  high: [number, number, number]
}
const nothing = (): Box => ({ low: [Infinity, Infinity, Infinity], high: [-Infinity, -Infinity, -Infinity] })

/** The box of what the file's triangles span in a unit and axis, mm: what a person is asked about. */
export function sizeOf({ parts }: Pick<ReadModel, 'parts'>, unitMm: number, up: Model['up']): Box {
  const all = nothing()
  for (const { positions, indices } of parts) grow(all, positions, indices)
  const scaled = (v: Vec3): [number, number, number] => [v[0] * unitMm, v[1] * unitMm, v[2] * unitMm]
  const [l, h] = [scaled(all.low), scaled(all.high)]
  return up === 'z' ? { low: l, high: h } : { low: [l[0], -h[2], l[1]], high: [h[0], -l[2], h[1]] }
}

function grow({ low, high }: Box, positions: ArrayLike<number>, indices: Uint32Array): void {
  for (let k = 0; k < 3; k++) {
    let least = low[k]!
    let most = high[k]!
    for (let i = 0; i < indices.length; i++) {
      const x = positions[3 * indices[i]! + k]!
      if (x < least) least = x
      if (x > most) most = x
    }
    low[k] = least
    high[k] = most
  }
}

/** Merges a file's parts. */
export function modelDrawing(read: Pick<ReadModel, 'parts'>, unitMm: number, up: Model['up']): ModelDrawing {
  const boxes = read.parts.map(part => sizeOf({ parts: [part] }, unitMm, up))
  const whole = nothing()
  for (const { low, high } of boxes)
    for (let k = 0; k < 3; k++) {
      whole.low[k] = Math.min(whole.low[k]!, low[k]!)
      whole.high[k] = Math.max(whole.high[k]!, high[k]!)
    }
  const origin: Vec3 = [
    (whole.low[0] + whole.high[0]) / 2,
    (whole.low[1] + whole.high[1]) / 2,
    (whole.low[2] + whole.high[2]) / 2,
  ]
  let numbers = 0
  let corners = 0
  for (const part of read.parts) {
    numbers += part.positions.length
    corners += part.indices.length
  }
  const positions = new Float32Array(numbers)
  const indices = new Uint32Array(corners)
  const parts: DrawnPart[] = []
  let at = 0
  let from = 0
  read.parts.forEach((part, p) => {
    const first = at / 3
    for (let i = 0; i < part.positions.length; i += 3) {
      const x = part.positions[i]! * unitMm
      const y = part.positions[i + 1]! * unitMm
      const z = part.positions[i + 2]! * unitMm
      positions[at++] = x - origin[0]
      positions[at++] = (up === 'y' ? -z : y) - origin[1]
      positions[at++] = (up === 'y' ? y : z) - origin[2]
    }
    for (let i = 0; i < part.indices.length; i++) indices[from + i] = first + part.indices[i]!
    parts.push({ key: part.key, names: part.names, from, count: part.indices.length, ...boxes[p]! })
    from += part.indices.length
  })
  return { parts, positions, indices, origin, low: whole.low, high: whole.high }
}
