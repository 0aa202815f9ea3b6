import { addScaled, type Vec3 } from '../../geometry/vec3.ts'
import type { SupportStand } from '../scene/supportStand.ts'

/** Of the round seat. */
const STEPS = 8

/** The edges of a saddle where it would stand, as pairs of points: the shape that a placed one is drawn in. */
export function saddleLines(
  { at, along, up, across, half }: SupportStand,
  od: number,
): (readonly [Vec3, Vec3])[] {
  const place = (x: number, y: number, z: number): Vec3 =>
    addScaled(addScaled(addScaled(at, across, x), up, y), along, z)
  const outline = corners(od)
  const ends = [-half, half].flatMap(z =>
    outline.map((p, i) => {
      const q = outline[(i + 1) % outline.length]!
      return [place(...p, z), place(...q, z)] as const
    }),
  )
  const footEdges = outline.slice(0, 2).map(p => [place(...p, -half), place(...p, half)] as const)
  return [...ends, ...footEdges]
}

/** Across and up from the tube's centre, mm: the foot first, the seat last. */
function corners(od: number): (readonly [number, number])[] {
  const [side, foot, low, top] = [0.8 * od, 1.3 * od, -1.1 * od, -0.85 * od]
  const seat = Array.from({ length: STEPS + 1 }, (_, k) => {
    const t = (Math.PI * k) / STEPS
    return [(od / 2) * Math.cos(t), (-od / 2) * Math.sin(t)] as const
  })
  return [
    [-foot, low],
    [foot, low],
    [foot, top],
    [side, top],
    [side, 0],
    ...seat,
    [-side, 0],
    [-side, top],
    [-foot, top],
  ]
}
