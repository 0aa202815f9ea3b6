import { type Bounds, boundsMeet } from '../geometry/boxTree.ts'
import type { Swept } from '../geometry/swept.ts'
import { pointOnShape } from '../geometry/swept.ts'
import { sweptConvexGap } from '../geometry/sweptConvexGap.ts'
import { type Gap, selfGap, sweptGap } from '../geometry/sweptGap.ts'
import { distance, type Vec3 } from '../geometry/vec3.ts'
import { LENGTH_SLACK_MM } from '../solve/lengthSlack.ts'
import { carries, fromBody } from './carries.ts'
import { lengthOfShapes, rodsOf } from './outside.ts'
import type { MeshPart, Part, SolidPart, TubePart } from './parts.ts'
import type { Stub } from './stubs.ts'
import { tubePlacedMeshGap } from './tubeMeshGap.ts'

/**
 * A gap short of what is asked by no more than this is what was asked: coordinates typed in inches and added up in
 * double precision come out this near. mm
 */
export const SAME = 1e-6

/** Of two the nearer; its bound covers the other. */
function nearer(p: Gap | null, q: Gap | null): Gap | null {
  if (!p || !q) return p ?? q
  const [best, other] = q.gap < p.gap ? [q, p] : [p, q]
  const certain = Math.min(best.gap - best.errorBound, other.gap - other.errorBound)
  return { ...best, errorBound: Math.max(best.errorBound, best.gap - certain) }
}

const turned = (gap: Gap | null): Gap | null =>
  gap && { ...gap, pointA: gap.pointB, pointB: gap.pointA, shapeA: gap.shapeB, shapeB: gap.shapeA }

/** Gap of two lists of rods, the bounds of each looked at first. */
function leastOf<T extends Bounds, U extends Bounds>(
  as: readonly T[],
  bs: readonly U[],
  limit: number,
  gap: (a: T, b: U, limit: number) => Gap | null,
): Gap | null {
  let best: Gap | null = null
  for (const a of as)
    for (const b of bs) {
      // A hair more than the best, so that what is as near keeps its say in the bound.
      const most = best ? Math.min(limit, best.gap + 0.02) : limit
      if ((as.length > 1 || bs.length > 1) && !boundsMeet(a, b, Math.max(most, 0))) continue
      best = nearer(best, gap(a, b, most))
    }
  return best
}

/** Gap of a run to itself, mm, or null. */
function toItself({ rods }: TubePart, limit: number): Gap | null {
  let best: Gap | null = null
  rods.forEach((a, i) => {
    for (const b of rods.slice(i))
      best = nearer(best, selfGap(a, best ? Math.min(limit, best.gap + 0.02) : limit, b))
  })
  return best
}

const toBody = (rods: readonly Swept[], body: SolidPart | MeshPart, limit: number): Gap | null =>
  body.kind === 'solid'
    ? leastOf(rods, [body], limit, (a, b, most) => sweptConvexGap(a, b.shape, most))
    : leastOf(rods, [body], limit, (a, b, most) => tubePlacedMeshGap(a, b, most))

/** The stubs of a tube that are not measured against a body, because their ports stand on it. */
export const stubsOn = (tube: TubePart, body: Part): readonly Stub[] =>
  body.kind === 'run' ? [] : tube.stubs.filter(stub => carries(body, stub))

/**
 * Least gap between outsides below `limit`, mm, or null; of a tube with itself when both are the same. Against a body that
 * one of its ports stands on, a tube is measured without that port's stub.
 */
export function partGap(tube: TubePart, other: Part, limit: number): Gap | null {
  if (other === tube) return toItself(tube, limit)
  if (other.kind === 'run') {
    // In the order of their keys, not of the question: else the last digit may differ.
    return tube.key < other.key
      ? leastOf(tube.rods, other.rods, limit, sweptGap)
      : turned(leastOf(other.rods, tube.rods, limit, sweptGap))
  }
  const stubs = stubsOn(tube, other)
  if (stubs.length === 0) return toBody(tube.rods, other, limit)
  return toBody(without(tube, stubs, 0), other, limit)
}

/** The outside without stubs, each longer by `more` mm or as long as `lengths` say. */
function without(tube: TubePart, stubs: readonly Stub[], more: number): readonly Swept[] {
  const whole = lengthOfShapes(tube.outside.shapes)
  const off = (end: 'A' | 'B') => {
    const stub = stubs.find(s => s.end === end)
    return stub ? stub.length + more : 0
  }
  return rodsOf(tube.outside, off('A'), whole - off('B'))
}

/**
 * What of a gap counts against `required` mm, or null when all that is measured is farther than `limit`. Against a body that a
 * port of the tube stands on that is every overlap, and what is nearer than required after the tube has left that port
 * (see `leftPort`).
 */
export function judgedGap(tube: TubePart, other: Part, required: number, limit: number): Gap | null {
  const stubs = stubsOn(tube, other)
  const found = partGap(tube, other, limit)
  if (stubs.length === 0 || other.kind === 'run' || !found || found.gap < -SAME) return found
  // Where it has what is required, the nearest place is but where the tube was cut.
  return afterLeaving(tube, other, stubs, required, Math.min(limit, required - SAME))
}

/** Gap of what comes after the tube has left the ports that stand on the body, mm, or null. */
export function afterLeaving(
  tube: TubePart,
  body: SolidPart | MeshPart,
  stubs: readonly Stub[],
  required: number,
  limit: number,
): Gap | null {
  const left = stubs.map(stub => ({ ...stub, length: leftPort(tube, body, stub, required) }))
  return toBody(without(tube, left, 0), body, limit)
}

/** Steps of looking whether a tube still moves away, over the way that it needs. */
const STEPS = 100
/** It moves away while it gains this share of the way that it goes: over rounding, far under what a hand can lay out. */
const AWAY = 1e-7

/**
 * How far along the tube from its port it has left the body that the port stands on, mm: where its outside has the gap required,
 * or where it stops moving away from the body; at the latest after twice the way that the gap takes. Nearer to the port no
 * tube can have that gap; farther on it can.
 */
export function leftPort(tube: TubePart, body: SolidPart | MeshPart, stub: Stub, required: number): number {
  const { outside } = tube
  const whole = lengthOfShapes(outside.shapes)
  const out = outside.radius + outside.insulation
  const need = required + out
  const away = (s: number) => fromBody(body, placeAlong(tube, stub.end === 'A' ? s : whole - s), 2 * need)
  const latest = Math.min(Math.max(2 * need, stub.length), whole)
  // Equal steps to the very end: a last one that is nothing but rounding would move nowhere.
  const way = latest - stub.length
  const steps = Math.max(Math.ceil((way * STEPS) / need), 1)
  let before = away(stub.length)
  for (let k = 0; k < steps; k++) {
    const s = stub.length + (way * k) / steps
    if (before >= need) return s
    const here = away(stub.length + (way * (k + 1)) / steps)
    if (!(here > before + (AWAY * way) / steps) && way > LENGTH_SLACK_MM) return s
    before = here
  }
  return latest
}

/** The place of the centre line `s` mm from end A. */
function placeAlong({ outside: { shapes } }: TubePart, s: number): Vec3 {
  let left = s
  for (const shape of shapes) {
    const size = shape.kind === 'line' ? distance(shape.start, shape.end) : shape.radius * shape.angleRad
    if (left <= size)
      return pointOnShape(shape, shape.kind === 'arc' ? left / shape.radius : size > 0 ? left / size : 0)
    left -= size
  }
  const last = shapes[shapes.length - 1]!
  return pointOnShape(last, last.kind === 'arc' ? last.angleRad : 1)
}
