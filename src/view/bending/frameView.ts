import { addScaled, cross, dot, type Vec3 } from '../../geometry/vec3.ts'

/** How much of the picture, from its middle, the points may fill: less at the top, where buttons lie over it. */
const ROOM = { side: 0.9, top: 0.62, bottom: 0.9 } as const

/**
 * Where a camera stands that sees all points as large as they fit.
 *
 * @param points at least one, mm.
 * @param forward unit vector that it looks along; not straight up or down.
 * @param fovDeg vertical angle of view, degrees.
 * @param aspect width / height of the picture.
 */
export function frameView(points: readonly Vec3[], forward: Vec3, fovDeg: number, aspect: number): Vec3 {
  const level = cross(forward, [0, 0, 1])
  const length = Math.hypot(...level)
  const right: Vec3 = [level[0] / length, level[1] / length, level[2] / length]
  const up = cross(right, forward)
  const tall = Math.tan((fovDeg * Math.PI) / 360)
  const across = points.map(p => [dot(p, right), dot(p, forward)] as const)
  const upright = points.map(p => [dot(p, up), dot(p, forward)] as const)
  const wide = tall * aspect * ROOM.side
  const [low, high] = [tall * ROOM.bottom, tall * ROOM.top]
  // The nearest that the camera may stand, along its axis, for each pair of edges of the picture.
  const depth = Math.min(nearest(across, wide, wide), nearest(upright, low, high))
  const place = (values: typeof across, below: number, above: number) => {
    const least = Math.max(...values.map(([v, d]) => v - above * (d - depth)))
    const most = Math.min(...values.map(([v, d]) => v + below * (d - depth)))
    return (least + most) / 2
  }
  return addScaled(
    addScaled(addScaled([0, 0, 0], forward, depth), right, place(across, wide, wide)),
    up,
    place(upright, low, high),
  )
}

/** Each [v, d] has to lie between c − below·(d − depth) and c + above·(d − depth) for one c: the largest such depth. */
function nearest(values: readonly (readonly [number, number])[], below: number, above: number): number {
  const least = Math.max(...values.map(([v, d]) => v - above * d))
  const most = Math.min(...values.map(([v, d]) => v + below * d))
  return (most - least) / (below + above)
}
