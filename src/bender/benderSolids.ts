import type { BenchSolid, Bender } from '../document/types.ts'
import { DEG, turnDirection, unit, type Vec3 } from '../geometry/vec3.ts'
import { BenchError } from './benchError.ts'
import type { ConvexSolid } from './convex.ts'

/** A bench that "never ends" reaches this far, mm: longer than any stock length on the market. */
const ENDLESS_MM = 20_000

export interface BenderSolids {
  /** Stand still. */
  readonly housing: readonly ConvexSolid[]
  /** Turn with the die; where they stand at bend angle 0. */
  readonly arm: readonly ConvexSolid[]
}

/**
 * The bender's solids in the bench frame, ready for distances; the bench top comes last, as a slab.
 * @throws BenchError when a size is not above 0 or an axis has no direction.
 */
export function benderSolids(bender: Bender): BenderSolids {
  const read = (s: BenchSolid) => convexOf(bender.name, s)
  const top = benchTop(bender)
  return {
    housing: [...bender.housing.map(read), ...(top === null ? [] : [top])],
    arm: bender.arm.map(read),
  }
}

function convexOf(place: string, solid: BenchSolid): ConvexSolid {
  const wanted = (ok: boolean, what: string, found: unknown, want: string) => {
    if (!ok) throw new BenchError(`bender ${place}: solid ${solid.name}: ${what}`, `${found}`, want)
  }
  wanted(solid.at.every(Number.isFinite), 'position', solid.at, 'finite figures')
  if (solid.shape === 'cylinder') {
    const axis = unit(solid.axis)
    wanted(axis !== null, 'axis', solid.axis, 'a direction')
    wanted(solid.length > 0 && solid.radius > 0, 'size', `${solid.length} × ${solid.radius}`, 'above 0')
    return {
      shape: 'cylinder',
      name: solid.name,
      centre: solid.at,
      axis: axis ?? [0, 0, 1],
      halfLength: solid.length / 2,
      radius: solid.radius,
    }
  }
  wanted(
    solid.size.every(s => s > 0),
    'size',
    solid.size,
    'above 0',
  )
  const turned = (v: Vec3): Vec3 => {
    const x = turnDirection(v, [1, 0, 0], solid.turn[0] * DEG)
    const y = turnDirection(x, [0, 1, 0], solid.turn[1] * DEG)
    return turnDirection(y, [0, 0, 1], solid.turn[2] * DEG)
  }
  return {
    shape: 'box',
    name: solid.name,
    centre: solid.at,
    axes: [turned([1, 0, 0]), turned([0, 1, 0]), turned([0, 0, 1])],
    half: [solid.size[0] / 2, solid.size[1] / 2, solid.size[2] / 2],
  }
}

/** The bench as a slab under its top, ending at the edge; null when the bender stands free. */
function benchTop(bender: Bender): ConvexSolid | null {
  const { benchTop: height, benchEdge: edge } = bender
  if (height === null) return null
  const outward = edge === null ? ([1, 0, 0] as Vec3) : unit([edge.outward[0], edge.outward[1], 0])
  if (outward === null)
    throw new BenchError(`bender ${bender.name}: bench edge`, 'no outward direction', 'a direction')
  const along: Vec3 = [-outward[1], outward[0], 0]
  const end = edge === null ? ENDLESS_MM : edge.at[0] * outward[0] + edge.at[1] * outward[1]
  const middle = (end - ENDLESS_MM) / 2
  return {
    shape: 'box',
    name: 'bench top',
    centre: [outward[0] * middle, outward[1] * middle, height - ENDLESS_MM / 2],
    axes: [outward, along, [0, 0, 1]],
    half: [(end + ENDLESS_MM) / 2, ENDLESS_MM, ENDLESS_MM / 2],
  }
}
