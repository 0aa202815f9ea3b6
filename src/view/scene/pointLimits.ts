import { addScaled, distance, length, scale, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import { type Flat, freedoms, meetPlane, nearestOn, SPACE } from './flat.ts'
import type { TypedLengths } from './typedFields.ts'

export type Axis = 'x' | 'y' | 'z'
export const AXES: readonly Axis[] = ['x', 'y', 'z']
export const AXIS_DIRECTIONS: Readonly<Record<Axis, Vec3>> = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] }

/** Below this the level plane is seen too flat to drag in: then the upright plane that faces the eye is taken. */
const LEVEL_SEEN_RAD = (25 * Math.PI) / 180

/** The axis a free drag leaves alone: z when looking down (or up) on the level, else x or y, whichever is in sight. */
export function stillAxis(back: Vec3): Axis {
  if (Math.abs(back[2]) >= Math.sin(LEVEL_SEEN_RAD)) return 'z'
  return Math.abs(back[0]) >= Math.abs(back[1]) ? 'x' : 'y'
}

/**
 * Where a dragged point may go: every coordinate either stays as at the start, is a typed one, or is free.
 * A lock frees one axis, no lock the two that span the drag's plane. `by` (typed with a lock) is a move along it.
 */
export function pointLimits(start: Vec3, still: Axis, lock: Axis | null, typed: TypedLengths): Flat {
  let flat: Flat = SPACE
  AXES.forEach((axis, k) => {
    const by = lock === axis ? typed.by : undefined
    const value = by !== undefined ? start[k]! + by : typed[axis]
    const free = lock ? axis === lock : axis !== still
    if (value === undefined && free) return
    flat = meetPlane(flat, AXIS_DIRECTIONS[axis], value ?? start[k]!) ?? flat
  })
  return flat
}

/**
 * The point of the flat `radius` from `centre`, nearest in direction to `p`; null when the flat passes the centre
 * farther off than that, or has no freedom left. For a typed leg length.
 */
export function atRadius(flat: Flat, p: Vec3, centre: Vec3, radius: number): Vec3 | null {
  if (freedoms(flat) === 0 || !(radius > 0)) return null
  const foot = nearestOn(flat, centre)
  const off = distance(foot, centre)
  if (off > radius) return null
  const towards = unit(sub(nearestOn(flat, p), foot))
  return towards && addScaled(foot, towards, Math.sqrt(radius * radius - off * off))
}

/** The coordinates that the flat leaves free rounded to whole steps; mm. Flats of {@link pointLimits} only. */
export function rounded(flat: Flat, p: Vec3, step: number): Vec3 {
  const whole = p.map(v => Math.round(v / step) * step) as unknown as Vec3
  return tidy(nearestOn(flat, whole))
}

/** Free of the last digits that sums leave behind: 10.200000000000001 is 10.2. Nothing moves by more than 1e-9 mm. */
export const tidy = (p: Vec3): Vec3 =>
  p.map(v => {
    const near = Math.round(v * 1e6) / 1e6
    return Math.abs(near - v) < 1e-9 ? near : v
  }) as unknown as Vec3

/** The step a drag goes in, mm: what about one px covers, as a round figure of the unit. */
export function dragStep(mmPerPx: number, inches: boolean): number {
  const steps = inches
    ? [1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1].map(s => s * 25.4)
    : [0.1, 0.5, 1, 5, 10]
  return steps.find(s => s >= mmPerPx * 0.6) ?? steps.at(-1)!
}

/** The unit direction of a leg, or null when it has no length. */
export const along = (from: Vec3, to: Vec3): Vec3 | null => {
  const d = sub(to, from)
  const l = length(d)
  return l > 1e-6 ? scale(d, 1 / l) : null
}
