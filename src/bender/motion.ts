import { add, cross, dot, length, scale, sub, turnAbout, type Vec3 } from '../geometry/vec3.ts'
import type { Rod } from './convex.ts'

/**
 * One continuous motion of a piece of tube relative to solids that stand still, from `from` to `to`:
 * 'still' · 'shift' by t mm along a unit direction · 'turn' by t radians, right-handed, about a fixed axis ·
 * 'drawn': fed along +x by `feed`·t and turned about the die's axis by `sense`·t at the same time (a tail that
 * wraps round a standing die, or a sliding tail seen from the turning arm).
 */
export type Motion = { readonly from: number; readonly to: number } & (
  | { readonly kind: 'still' }
  | { readonly kind: 'shift'; readonly along: Vec3 }
  | { readonly kind: 'turn'; readonly origin: Vec3; readonly axis: Vec3 }
  | { readonly kind: 'drawn'; readonly origin: Vec3; readonly sense: 1 | -1; readonly feed: number }
)

const UP: Vec3 = [0, 0, 1]

/** Where the point `p` (given at t = 0) is at `t`. */
export function placeAt(motion: Motion, p: Vec3, t: number): Vec3 {
  switch (motion.kind) {
    case 'still':
      return p
    case 'shift':
      return add(p, scale(motion.along, t))
    case 'turn':
      return turnAbout(p, motion.origin, motion.axis, t)
    case 'drawn':
      return turnAbout([p[0] + motion.feed * t, p[1], p[2]], motion.origin, UP, motion.sense * t)
  }
}

/** How fast a·q moves at `t` for a tube point now at q: slope·q + rest. */
export function pace(motion: Motion, a: Vec3, t: number): { slope: Vec3; rest: number } {
  switch (motion.kind) {
    case 'still':
      return { slope: [0, 0, 0], rest: 0 }
    case 'shift':
      return { slope: [0, 0, 0], rest: dot(a, motion.along) }
    case 'turn': {
      const slope = cross(a, motion.axis)
      return { slope, rest: -dot(slope, motion.origin) }
    }
    case 'drawn': {
      const slope = scale(cross(a, UP), motion.sense)
      const fed = turnAbout([motion.feed, 0, 0], [0, 0, 0], UP, motion.sense * t)
      return { slope, rest: dot(a, fed) - dot(slope, motion.origin) }
    }
  }
}

/**
 * Bounds over the times within `half` of now, for a rod at its place now: no point moves faster than `speed`
 * (mm per unit of t), and a·q departs from its straight-line prediction by no more than ½·τ²·`curve`.
 */
export function limits(motion: Motion, rod: Rod, a: Vec3, half: number): { speed: number; curve: number } {
  switch (motion.kind) {
    case 'still':
      return { speed: 0, curve: 0 }
    case 'shift':
      return { speed: 1, curve: 0 }
    case 'turn': {
      const lever = leverArm(rod, motion.origin, motion.axis)
      return { speed: lever, curve: lever * squareTo(a, motion.axis) }
    }
    case 'drawn': {
      // Feeding brings points up to feed·half nearer or further while the interval lasts.
      const lever = leverArm(rod, motion.origin, UP) + motion.feed * half
      return { speed: lever + motion.feed, curve: (lever + 2 * motion.feed) * squareTo(a, UP) }
    }
  }
}

/** Largest distance of a rod's point from the axis, mm (an upper bound by the rod's radius). */
function leverArm(rod: Rod, origin: Vec3, axis: Vec3): number {
  return Math.max(offAxis(rod.from, origin, axis), offAxis(rod.to, origin, axis)) + rod.radius
}
function offAxis(p: Vec3, origin: Vec3, axis: Vec3): number {
  const d = sub(p, origin)
  const along = dot(d, axis)
  return Math.sqrt(Math.max(0, dot(d, d) - along * along))
}
const squareTo = (a: Vec3, axis: Vec3): number => length(cross(a, axis))
