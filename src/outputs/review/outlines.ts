import type { Solid } from '../../document/types.ts'
import { turnedAxes } from '../../geometry/convex.ts'
import { add, addScaled, anySquareTo, cross, dot, scale, unit, type Vec3 } from '../../geometry/vec3.ts'
import type { PathStep } from '../paper.ts'
import { type Frame, onPaper } from '../views.ts'

export type At = readonly [number, number]

/** A solid as it is seen: the lines of its outside that face the eye, and the convex area that it covers. */
export interface Outline {
  readonly paths: readonly (readonly PathStep[])[]
  readonly area: readonly At[]
}

/** The turn of one Bézier piece: four in a circle come within 3e-4 of its radius, eight within 5e-6. */
const PIECE = Math.PI / 4
/** Corners of the area of something round: 2e-3 of its radius off. */
const ROUND = 48

/** Where a half space is seen edge-on it is a line, with so much of it hatched under it, mm on paper. */
const EARTH = 3

/**
 * The outline of a solid in a view; null for a half space that is not seen edge-on, which would cover the picture.
 * `reach` is how far a half space's line goes either way from `near` (mm on the skid).
 */
export function outlineOf(solid: Solid, frame: Frame, near: Vec3, reach: number): Outline | null {
  switch (solid.shape) {
    case 'box':
      return boxOutline(solid.at, solid.size, turnedAxes(solid.turn), frame)
    case 'cylinder':
      return cylinderOutline(solid.at, unit(solid.axis) ?? [0, 0, 1], solid.length, solid.radius, frame)
    case 'sphere': {
      const { right, up } = frame.view
      const ring = (t: number): Vec3 =>
        addScaled(addScaled(solid.at, right, solid.radius * Math.cos(t)), up, solid.radius * Math.sin(t))
      return {
        paths: [
          arcSteps(solid.at, scale(right, solid.radius), scale(up, solid.radius), 0, 2 * Math.PI, frame),
        ],
        area: Array.from({ length: ROUND }, (_, k) => onPaper(frame, ring((2 * Math.PI * k) / ROUND))),
      }
    }
    case 'plane': {
      const normal = unit(solid.normal)
      if (!normal || Math.abs(dot(normal, frame.view.eye)) > 1e-6) return null
      const foot = addScaled(
        near,
        normal,
        -dot(normal, [near[0] - solid.at[0], near[1] - solid.at[1], near[2] - solid.at[2]]),
      )
      const side = cross(normal, frame.view.eye)
      const [a, b] = [addScaled(foot, side, -reach), addScaled(foot, side, reach)]
      const under = (p: Vec3) => addScaled(p, normal, -EARTH / frame.scale)
      return {
        paths: [
          [
            ['M', ...onPaper(frame, a)],
            ['L', ...onPaper(frame, b)],
          ],
        ],
        area: [a, b, under(b), under(a)].map(p => onPaper(frame, p)),
      }
    }
  }
}

/** A circle or a part of it, centre + cos·u + sin·v from `from` to `to` radians, as Bézier pieces on the paper. */
export function arcSteps(centre: Vec3, u: Vec3, v: Vec3, from: number, to: number, frame: Frame): PathStep[] {
  const parts = Math.max(1, Math.ceil(Math.abs(to - from) / PIECE - 1e-9))
  const turn = (to - from) / parts
  const handle = (4 / 3) * Math.tan(turn / 4)
  const at = (t: number) => add(centre, add(scale(u, Math.cos(t)), scale(v, Math.sin(t))))
  const along = (t: number) => add(scale(u, -Math.sin(t)), scale(v, Math.cos(t)))
  const steps: PathStep[] = [['M', ...onPaper(frame, at(from))]]
  for (let k = 0; k < parts; k++) {
    const [s, e] = [from + turn * k, from + turn * (k + 1)]
    steps.push([
      'C',
      ...onPaper(frame, addScaled(at(s), along(s), handle)),
      ...onPaper(frame, addScaled(at(e), along(e), -handle)),
      ...onPaper(frame, at(e)),
    ])
  }
  return steps
}

function boxOutline(at: Vec3, size: Vec3, axes: readonly [Vec3, Vec3, Vec3], frame: Frame): Outline {
  const corner = (signs: readonly number[]) =>
    signs.reduce<Vec3>((p, s, k) => addScaled(p, axes[k]!, (s * size[k]!) / 2), at)
  const paths: PathStep[][] = []
  // An edge runs along one axis between two faces; it is seen when either of them faces the eye.
  for (const k of [0, 1, 2]) {
    const [i, j] = [0, 1, 2].filter(n => n !== k) as [number, number]
    for (const si of [-1, 1])
      for (const sj of [-1, 1]) {
        const { eye } = frame.view
        if (si * dot(axes[i]!, eye) <= 1e-9 && sj * dot(axes[j]!, eye) <= 1e-9) continue
        const end = (sk: number) => {
          const signs = [0, 0, 0]
          signs[k] = sk
          signs[i] = si
          signs[j] = sj
          return onPaper(frame, corner(signs))
        }
        paths.push([
          ['M', ...end(-1)],
          ['L', ...end(1)],
        ])
      }
  }
  const corners = Array.from({ length: 8 }, (_, n) =>
    corner([n & 1, (n >> 1) & 1, n >> 2].map(b => 2 * b - 1)),
  )
  return { paths, area: hull(corners.map(p => onPaper(frame, p))) }
}

function cylinderOutline(at: Vec3, axis: Vec3, long: number, radius: number, frame: Frame): Outline {
  const { eye } = frame.view
  const towards = dot(axis, eye) >= 0 ? axis : scale(axis, -1)
  const [near, far] = [addScaled(at, towards, long / 2), addScaled(at, towards, -long / 2)]
  const endOn = dot(towards, eye) > 1 - 1e-12
  const m = endOn ? anySquareTo(towards) : (unit(cross(towards, eye)) ?? anySquareTo(towards))
  const n = cross(towards, m)
  const [u, v] = [scale(m, radius), scale(n, radius)]
  const paths = [arcSteps(near, u, v, 0, 2 * Math.PI, frame)]
  if (!endOn) {
    for (const s of [1, -1])
      paths.push([
        ['M', ...onPaper(frame, addScaled(near, u, s))],
        ['L', ...onPaper(frame, addScaled(far, u, s))],
      ])
    // Of the far end only the half on the side that faces the eye is seen.
    const seen = dot(n, eye) > 0 ? 0 : Math.PI
    paths.push(arcSteps(far, u, v, seen, seen + Math.PI, frame))
  }
  const rings = [near, far].flatMap(c =>
    Array.from({ length: ROUND }, (_, k) => {
      const t = (2 * Math.PI * k) / ROUND
      return onPaper(frame, add(c, add(scale(u, Math.cos(t)), scale(v, Math.sin(t)))))
    }),
  )
  return { paths, area: hull(rings) }
}

/** The convex hull of points, in order round it (Andrew's monotone chain). */
export function hull(points: readonly At[]): At[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const half = (list: readonly At[]): At[] => {
    const out: At[] = []
    for (const p of list) {
      while (out.length > 1) {
        const [a, b] = [out[out.length - 2]!, out[out.length - 1]!]
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 1e-12) break
        out.pop()
      }
      out.push(p)
    }
    return out.slice(0, -1)
  }
  return [...half(sorted), ...half(sorted.reverse())]
}
