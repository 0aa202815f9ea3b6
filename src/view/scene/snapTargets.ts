import type { Fitting, Solid } from '../../document/types.ts'
import { add, addScaled, distance, dot, scale, sub, unit, type Vec3 } from '../../geometry/vec3.ts'
import { type Flat, lineThrough, planeThrough } from './flat.ts'
import type { OtherPoint } from './otherPoints.ts'
import { along } from './pointLimits.ts'
import { boxAxes } from './raySolid.ts'
import { pointName } from './routeOf.ts'

export interface SnapTarget {
  /** As shown: "on the axis of Manifold inlet". */
  readonly name: string
  /** Where the point would have to lie; may depend on where it is now. Null: not here. */
  readonly flat: (p: Vec3) => Flat | null
  /** Where its guide line starts. */
  readonly from: (p: Vec3) => Vec3
}

export interface SnapContext {
  /** Route points and ids, with the moving point among them (at any place). */
  readonly points: readonly Vec3[]
  readonly ids: readonly string[]
  /** Route index of the moving point. */
  readonly moving: number
  readonly fittings: readonly Fitting[]
  readonly solids: readonly Solid[]
  /** OD of the tube, mm: on a face it rests with its outside. */
  readonly od: number
}

/** Other parts farther from the moving point than this are no part of what a person lines up with, mm. */
const NEARBY_MM = 600
/** With more of them a point would be pulled wherever it goes. */
const NEARBY = 5

/** Points and legs farther along the route than this are no part of what a person lines up with. */
const NEAR = 20

const COS45 = Math.SQRT1_2
const fixed = (name: string, flat: Flat, from: Vec3): SnapTarget => ({
  name,
  flat: () => flat,
  from: () => from,
})

/** All that a moving route point may snap to, the more telling first. */
export function snapTargets(c: SnapContext): SnapTarget[] {
  const targets: SnapTarget[] = []
  const { points, ids, moving } = c
  for (const f of c.fittings) {
    const axis = unit(f.axis)
    if (axis) targets.push(fixed(`on the axis of ${f.name}`, lineThrough(f.position, axis), f.position))
  }
  const neighbours = [moving - 1, moving + 1].filter(i => i >= 0 && i < points.length)
  for (const i of neighbours) {
    const at = points[i]!
    const who = pointName(ids, ids[i]!)
    const beyond = points[i < moving ? i - 1 : i + 1]
    const leg = beyond && along(beyond, at)
    if (leg) {
      targets.push(fixed(`square at ${who}`, planeThrough(at, leg), at))
      for (const sign of [1, -1])
        targets.push({
          name: `45° at ${who}`,
          from: () => at,
          flat: p => {
            const d = sub(p, at)
            const side = unit(addScaled(d, leg, -dot(d, leg)))
            const ahead = dot(d, leg) * sign > 0
            return side && ahead ? lineThrough(at, add(scale(leg, sign * COS45), scale(side, COS45))) : null
          },
        })
    }
    for (let k = 0; k + 1 < points.length; k++) {
      if (k === moving || k + 1 === moving || Math.abs(k - moving) > NEAR) continue
      const d = along(points[k]!, points[k + 1]!)
      if (d) targets.push(fixed(`parallel to leg ${k + 1}`, lineThrough(at, d), at))
    }
  }
  points.forEach((at, i) => {
    const isEnd = i === 0 || i === points.length - 1
    if (i === moving || (Math.abs(i - moving) > NEAR && !isEnd)) return
    const who = pointName(ids, ids[i]!)
    targets.push(fixed(`over ${who}`, lineThrough(at, [0, 0, 1]), at))
    if (!neighbours.includes(i) && !isEnd) return
    targets.push(fixed(`level with ${who}`, planeThrough(at, [0, 0, 1]), at))
    targets.push(fixed(`same x as ${who}`, planeThrough(at, [1, 0, 0]), at))
    targets.push(fixed(`same y as ${who}`, planeThrough(at, [0, 1, 0]), at))
  })
  for (const solid of c.solids) targets.push(...faceTargets(solid, c.od), ...levelTargets(solid, c.od))
  return targets
}

/** In line with a point of another part, with its leg, or over it: of the few that are nearest to where the point is. */
export function nearbyTargets(others: readonly OtherPoint[], p: Vec3): SnapTarget[] {
  return others
    .map(other => ({ other, off: distance(other.at, p) }))
    .filter(({ off }) => off <= NEARBY_MM)
    .sort((a, b) => a.off - b.off)
    .slice(0, NEARBY)
    .flatMap(({ other: { name, at, leg } }) => {
      const direction = leg && along(at, leg.to)
      return [
        fixed(`over ${name}`, lineThrough(at, [0, 0, 1]), at),
        ...(direction ? [fixed(`in line with ${leg.name}`, lineThrough(at, direction), at)] : []),
        fixed(`level with ${name}`, planeThrough(at, [0, 0, 1]), at),
        fixed(`same x as ${name}`, planeThrough(at, [1, 0, 0]), at),
        fixed(`same y as ${name}`, planeThrough(at, [0, 1, 0]), at),
      ]
    })
}

/** As high as a tube that lies on it, or hangs under it, beside it too: the levels that a skid's tubes run at. */
function levelTargets(solid: Solid, od: number): SnapTarget[] {
  const half = halfHeight(solid)
  if (half === null) return []
  return [
    [1, `as high as on top of ${solid.name}`] as const,
    [-1, `as low as under ${solid.name}`] as const,
  ].map(([sign, name]) => {
    const level = planeThrough([0, 0, solid.at[2] + sign * (half + od / 2)], [0, 0, 1])
    return {
      name,
      flat: (p: Vec3) => (distance(p, solid.at) <= NEARBY_MM + half ? level : null),
      from: (p: Vec3): Vec3 => [solid.at[0], solid.at[1], p[2]],
    }
  })
}

/** From its middle to its highest point, mm; null for a plane and for what nothing lies on. */
function halfHeight(solid: Solid): number | null {
  if (solid.kind === 'keepOut' || solid.shape === 'plane') return null
  if (solid.shape === 'sphere') return solid.radius
  if (solid.shape === 'box')
    return boxAxes(solid).reduce((sum, axis, k) => sum + (Math.abs(axis[2]) * solid.size[k]!) / 2, 0)
  const axis = unit(solid.axis)
  if (!axis) return null
  const rise = Math.abs(axis[2])
  return (rise * solid.length) / 2 + Math.sqrt(Math.max(0, 1 - rise * rise)) * solid.radius
}

/** The flat faces of a solid, as planes that the tube's centre line has when its outside rests on them. */
function faceTargets(solid: Solid, od: number): SnapTarget[] {
  if (solid.shape === 'plane') {
    const normal = unit(solid.normal)
    return normal
      ? [fixed(`on ${solid.name}`, planeThrough(addScaled(solid.at, normal, od / 2), normal), solid.at)]
      : []
  }
  if (solid.shape !== 'box') return []
  const axes = boxAxes(solid)
  return axes.flatMap((axis, k) =>
    [1, -1].map((sign): SnapTarget => {
      const normal = scale(axis, sign)
      const plane = planeThrough(addScaled(solid.at, normal, solid.size[k]! / 2 + od / 2), normal)
      const onFace = (p: Vec3) =>
        axes.every((a, j) => j === k || Math.abs(dot(sub(p, solid.at), a)) <= solid.size[j]! / 2)
      return {
        name: `on a face of ${solid.name}`,
        flat: p => (onFace(p) ? plane : null),
        from: p => addScaled(p, normal, -od / 2),
      }
    }),
  )
}
