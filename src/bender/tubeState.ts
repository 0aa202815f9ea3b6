import {
  add,
  cross,
  DEG,
  distance,
  lerp,
  scale,
  squared,
  turnDirection,
  type Vec3,
} from '../geometry/vec3.ts'
import type { Lead } from '../solve/bendOrder.ts'
import type { Stock } from './layOut.ts'
import type { PartOfRun, TubePart } from './tubePart.ts'

/** One side of the tube as it lies in the bench frame with the next bend's tangent point at the origin. */
export interface TubeSide {
  readonly parts: readonly TubePart[]
  /** Length from the tangent point out to the first bend already made, or the free end, mm; negative when overrun. */
  readonly firstStraight: number
}

export interface TubeStateInput {
  readonly stock: Stock
  /** Settled bend angles in A order, degrees. */
  readonly angles: readonly number[]
  readonly made: (bend: number) => boolean
  /** The bend to be made (or just made), and which end goes through the clamp first. */
  readonly bend: number
  readonly lead: Lead
  readonly hand: 'left' | 'right'
  /** The end where the trim sits. */
  readonly trimAt: Lead
}

/**
 * The tube ahead of the tangent point (towards the leading end, along +x), rolled so that this bend's plane is
 * the die's. Bends not yet made are straight stock.
 */
export const frontOf = (input: TubeStateInput): TubeSide => sideOf(input, { ahead: true, heading: [1, 0, 0] })

/** The tube behind the tangent point (along −x); the stock of this bend itself is the first of it. */
export const tailOf = (input: TubeStateInput): TubeSide =>
  sideOf(input, { ahead: false, heading: [-1, 0, 0] })

function sideOf(input: TubeStateInput, way: { ahead: boolean; heading: Vec3 }): TubeSide {
  const { stock, angles, made, bend, lead, hand } = input
  const towardsB = (lead === 'B') === way.ahead
  const step = towardsB ? 1 : -1
  const count = angles.length
  const handSign = hand === 'left' ? 1 : -1
  // Going out along the tail a left-hand die turns the tube about −z, going out ahead about +z.
  const own: Vec3 = [0, 0, way.ahead ? handSign : -handSign]
  // Square to the heading: what was +y at the die, and what was +z.
  let e1: Vec3 = [0, 1, 0]
  let e2: Vec3 = [0, 0, 1]
  let heading = way.heading
  let from: Vec3 = [0, 0, 0]
  const parts: TubePart[] = []
  let firstStraight: number | null = null

  let run = way.ahead ? 0 : stock.arcs[bend]! - stock.stretch[bend]!
  for (let k = bend + step; ; k += step) {
    const straight = towardsB ? k : k + 1
    run += stock.straights[straight]!
    const end = k < 0 || k >= count
    if (end && input.trimAt === (towardsB ? 'B' : 'A')) run += stock.trim
    if (!end && !made(k)) {
      run += stock.arcs[k]! - stock.stretch[k]!
      continue
    }
    firstStraight ??= run
    const to = add(from, scale(heading, run))
    if (run > 0) parts.push({ of: straightPart(straight), kind: 'line', from, to })
    if (end) break

    const away = (stock.planes[k]! - stock.planes[bend]!) * (lead === 'A' ? 1 : -1) * DEG
    const flat = turnDirection(own, [-1, 0, 0], away)
    const axis = add(scale(e1, flat[1]), scale(e2, flat[2]))
    const angleRad = angles[k]! * DEG
    const radius = stock.radii[k]!
    const centre = add(to, scale(cross(axis, heading), radius))
    const out = cross(heading, axis)
    parts.push({ of: { kind: 'bend', index: k }, kind: 'arc', centre, out, heading, radius, angleRad })
    from = add(centre, scale(turnDirection(out, axis, angleRad), radius))
    ;[heading, e1] = squared(turnDirection(heading, axis, angleRad), turnDirection(e1, axis, angleRad))
    e2 = way.ahead ? cross(heading, e1) : cross(e1, heading)
    run = 0
  }
  return { parts, firstStraight: firstStraight ?? 0 }
}

const straightPart = (index: number): PartOfRun => ({ kind: 'straight', index })

/**
 * The parts up to `length` mm from the tangent point, and the rest; only what lies straight on from it is cut. What
 * is straight but shorter is near as a whole. Parts that do not begin at the tangent point are far.
 */
export function cutAt(
  parts: readonly TubePart[],
  length: number,
): { readonly near: readonly TubePart[]; readonly far: readonly TubePart[] } {
  const first = parts[0]
  if (first?.kind !== 'line' || !(length > 0) || !isOrigin(first.from)) return { near: [], far: parts }
  const along = distance(first.from, first.to)
  if (length >= along) return { near: [first], far: parts.slice(1) }
  const at = lerp(first.from, first.to, length / along)
  return { near: [{ ...first, to: at }], far: [{ ...first, from: at }, ...parts.slice(1)] }
}

const isOrigin = (p: Vec3): boolean => p[0] === 0 && p[1] === 0 && p[2] === 0

/** Parts moved rigidly: a shift, or a turn about an axis, of everything. */
export function moved(
  parts: readonly TubePart[],
  point: (p: Vec3) => Vec3,
  direction: (d: Vec3) => Vec3,
): TubePart[] {
  return parts.map(p =>
    p.kind === 'line'
      ? { ...p, from: point(p.from), to: point(p.to) }
      : { ...p, centre: point(p.centre), out: direction(p.out), heading: direction(p.heading) },
  )
}
