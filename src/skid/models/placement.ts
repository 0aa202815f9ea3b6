import type { Bounds } from '../../geometry/boxTree.ts'
import { turnedAxes } from '../../geometry/convex.ts'
import type { Shape } from '../../geometry/swept.ts'
import { addScaled, dot, sub, type Vec3 } from '../../geometry/vec3.ts'

/** Where a model's origin stands, mm, and how it is turned about the fixed x, then y, then z axis, degrees. */
export interface Placement {
  readonly at: Vec3
  readonly turn: Vec3
}

export const samePlacement = (a: Placement, b: Placement): boolean =>
  a === b || (a.at.every((x, k) => x === b.at[k]) && a.turn.every((x, k) => x === b.turn[k]))

/** The maps between a model's own frame and the skid. Rigid: lengths and hands stay as they are. */
export interface PlacedFrame {
  readonly placement: Placement
  /** True when both frames are the same: then nothing needs to be carried over. */
  readonly same: boolean
  /** The model's axes on the skid, unit. */
  readonly axes: readonly [Vec3, Vec3, Vec3]
  /** The model's point on the skid, mm. */
  readonly toSkid: (p: Vec3) => Vec3
  /** The skid's point in the model's frame, mm. */
  readonly toModel: (p: Vec3) => Vec3
  /** A piece of a centre line in the model's frame. */
  readonly shapeToModel: (shape: Shape) => Shape
}

export function placedFrame(placement: Placement): PlacedFrame {
  const { at } = placement
  const axes = turnedAxes(placement.turn)
  const into = (v: Vec3): Vec3 => [dot(v, axes[0]), dot(v, axes[1]), dot(v, axes[2])]
  const toModel = (p: Vec3): Vec3 => into(sub(p, at))
  const toSkid = (p: Vec3): Vec3 => {
    let out = at
    for (const k of [0, 1, 2] as const) out = addScaled(out, axes[k], p[k])
    return out
  }
  const shapeToModel = (shape: Shape): Shape =>
    shape.kind === 'line'
      ? {
          kind: 'line',
          start: toModel(shape.start),
          end: toModel(shape.end),
          direction: into(shape.direction),
        }
      : {
          kind: 'arc',
          start: toModel(shape.start),
          centre: toModel(shape.centre),
          radius: shape.radius,
          normal: into(shape.normal),
          direction: into(shape.direction),
          angleRad: shape.angleRad,
        }
  const same = placement.turn.every(x => x === 0) && at.every(x => x === 0)
  return { placement, same, axes, toSkid, toModel, shapeToModel }
}

/** Far more than the rounding of turning a box, far less than any gap that is asked about: share of its distance. */
const ROUNDING = 1e-12

/** Bounds on the skid of everything inside `bounds` of the model's frame, mm: its turned box's own. */
export function placedBounds({ low, high }: Bounds, { placement, same, toSkid }: PlacedFrame): Bounds {
  if (same) return { low, high }
  const axes = turnedAxes(placement.turn)
  const middle = toSkid([(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2])
  const reach = ([0, 1, 2] as const).map(k => {
    let half = 0
    for (const j of [0, 1, 2] as const) half += (Math.abs(axes[j][k]) * (high[j] - low[j])) / 2
    return half + ROUNDING * (Math.abs(middle[k]) + Math.abs(placement.at[k]) + half)
  })
  return {
    low: [middle[0] - reach[0]!, middle[1] - reach[1]!, middle[2] - reach[2]!],
    high: [middle[0] + reach[0]!, middle[1] + reach[1]!, middle[2] + reach[2]!],
  }
}
