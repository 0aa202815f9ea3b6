import { vec3 } from 'gl-matrix'

/**
 * A point or a direction in millimetres (or unitless when it is a direction), always a plain tuple:
 * gl-matrix's own `create()` is single precision and costs 5.7e-4 mm over eight bends.
 */
export type Vec3 = readonly [number, number, number]

type Out = [number, number, number]
const out = (): Out => [0, 0, 0]

// Written out: these are the innermost calls of every sweep and every solve.
export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
export const scale = (a: Vec3, by: number): Vec3 => [a[0] * by, a[1] * by, a[2] * by]
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
export const lerp = (a: Vec3, b: Vec3, t: number): Vec3 => vec3.lerp(out(), a, b, t) as Out
/** `a + b·by`. */
export const addScaled = (a: Vec3, b: Vec3, by: number): Vec3 => [
  a[0] + b[0] * by,
  a[1] + b[1] * by,
  a[2] + b[2] * by,
]
export const negate = (a: Vec3): Vec3 => [0 - a[0], 0 - a[1], 0 - a[2]]
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const length = (a: Vec3): number => Math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2])
export const distance = (a: Vec3, b: Vec3): number => length(sub(a, b))
export const isFiniteVec3 = (a: Vec3): boolean =>
  Number.isFinite(a[0]) && Number.isFinite(a[1]) && Number.isFinite(a[2])

/** The unit vector along `a`, or null when `a` has no length. */
export function unit(a: Vec3): Vec3 | null {
  const l = length(a)
  return l > 0 && Number.isFinite(l) ? scale(a, 1 / l) : null
}

/** Any unit vector square to `a` (a unit vector); the world axis least along `a` decides, so it is steady. */
export function anySquareTo(a: Vec3): Vec3 {
  const [x, y, z] = [Math.abs(a[0]), Math.abs(a[1]), Math.abs(a[2])]
  const seed: Vec3 = x <= y && x <= z ? [1, 0, 0] : y <= z ? [0, 1, 0] : [0, 0, 1]
  return unit(cross(a, seed)) ?? [1, 0, 0]
}

/**
 * `p` turned about the axis through `origin` along `axis` (unit) by `angleRad`, counter-clockwise when the
 * axis points at the eye (right-handed). Rodrigues' formula.
 */
export function turnAbout(p: Vec3, origin: Vec3, axis: Vec3, angleRad: number): Vec3 {
  return add(origin, turnDirection(sub(p, origin), axis, angleRad))
}

/** Direction `v` turned about `axis` (unit) by `angleRad`, right-handed. Rodrigues' formula. */
export function turnDirection(v: Vec3, axis: Vec3, angleRad: number): Vec3 {
  const c = Math.cos(angleRad)
  const s = Math.sin(angleRad)
  const k = dot(axis, v) * (1 - c)
  const w = cross(axis, v)
  return [
    v[0] * c + w[0] * s + axis[0] * k,
    v[1] * c + w[1] * s + axis[1] * k,
    v[2] * c + w[2] * s + axis[2] * k,
  ]
}

/**
 * A heading and a side square to it, both unit but for rounding, made so to the last digit. A frame that is carried on
 * from bend to bend needs this after each of them: what it is off by grows about threefold a bend, so that nothing is
 * left of it after forty.
 */
export function squared(heading: Vec3, side: Vec3): readonly [Vec3, Vec3] {
  const h = scale(heading, 1 / length(heading))
  const s = addScaled(side, h, 0 - dot(side, h))
  return [h, scale(s, 1 / length(s))]
}

export const DEG = Math.PI / 180
