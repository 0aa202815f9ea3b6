import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import type { Box3 } from './cameraRig.ts'

export interface FloorGrid {
  /** Distance between fine lines, mm; every fifth (metric) or twelfth (inch) is a strong one. */
  readonly step: number
  /** Distance between strong lines, mm. */
  readonly strongStep: number
  /** Corners of what the lines cover, mm: multiples of the strong step. */
  readonly low: readonly [number, number]
  readonly high: readonly [number, number]
  readonly fine: readonly Vec3[]
  readonly strong: readonly Vec3[]
}

const METRIC = { steps: [10, 20, 50, 100, 200, 500, 1000, 2000, 5000], strong: 5 }
const INCH = { steps: [25.4, 76.2, 152.4, 304.8, 609.6, 1524], strong: 4 }

/** Height of the document's level floor, mm; 0 when it has none. */
export const floorHeight = (document: SkidDocument): number => {
  const floor = document.solids.find(
    s => s.shape === 'plane' && s.kind === 'floor' && s.normal[0] === 0 && s.normal[1] === 0,
  )
  return floor?.at[2] ?? 0
}

/** Lines (pairs of points) under everything there is, no more than some sixty each way. */
export function floorGrid(bounds: Box3, z: number, unit: LengthUnit): FloorGrid {
  const { steps, strong } = unit === 'mm' ? METRIC : INCH
  const wide = Math.max(bounds.high[0] - bounds.low[0], bounds.high[1] - bounds.low[1], 400) * 1.3
  let step = steps.find(s => wide / s <= 44) ?? steps.at(-1)!
  while (Number.isFinite(wide) && wide / step > 44) step *= 10
  const big = step * strong
  const low = [0, 1].map(k => Math.floor((bounds.low[k]! - wide * 0.12) / big))
  const high = [0, 1].map(k => Math.ceil((bounds.high[k]! + wide * 0.12) / big))
  const corner = (of: readonly number[]): [number, number] => [of[0]! * big, of[1]! * big]
  const out = {
    ...{ step, strongStep: big, low: corner(low), high: corner(high) },
    ...{ fine: [] as Vec3[], strong: [] as Vec3[] },
  }
  for (const k of [0, 1] as const) {
    const o = 1 - k
    for (
      let i = low[k]! * strong;
      i <= high[k]! * strong && out.fine.length + out.strong.length < 1000;
      i++
    ) {
      const at = (cross: number): Vec3 => (k === 0 ? [i * step, cross, z] : [cross, i * step, z])
      ;(i % strong === 0 ? out.strong : out.fine).push(at(low[o]! * big), at(high[o]! * big))
    }
  }
  return out
}
