import type { ConvexSolid } from '../../src/bender/convex.ts'
import type { Motion } from '../../src/bender/motion.ts'
import type { SweepJob } from '../../src/bender/sweep.ts'
import type { TubePart } from '../../src/bender/tubePart.ts'
import { add, cross, scale, turnDirection, unit, type Vec3 } from '../../src/geometry/vec3.ts'

/** A piece of bent tube with flat ends, a solid and a motion between them, all by chance. */
export function randomScene(next: () => number): { jobs: SweepJob[]; radius: number } {
  const between = (low: number, high: number) => low + (high - low) * next()
  const direction = (): Vec3 => unit([between(-1, 1), between(-1, 1), between(-1, 1)]) ?? [1, 0, 0]
  const place = (by: number): Vec3 => [between(-by, by), between(-by, by), between(-by, by)]
  const radius = between(3, 10)

  let from = place(90)
  let heading = direction()
  const parts: TubePart[] = []
  const line = (index: number) => {
    const to = add(from, scale(heading, between(radius * 1.2, 120)))
    parts.push({ of: { kind: 'straight', index }, kind: 'line', from, to })
    from = to
  }
  line(0)
  if (next() < 0.7) {
    const axis = unit(cross(heading, direction())) ?? [0, 0, 1]
    const bend = radius * between(4, 7)
    const angleRad = between(0.2, 3)
    const centre = add(from, scale(cross(axis, heading), bend))
    const out = scale(add(from, scale(centre, -1)), 1 / bend)
    parts.push({ of: { kind: 'bend', index: 0 }, kind: 'arc', centre, out, heading, radius: bend, angleRad })
    from = add(centre, scale(turnDirection(out, axis, angleRad), bend))
    heading = turnDirection(heading, axis, angleRad)
    line(1)
  }

  const axis = direction()
  const side = unit(cross(axis, direction())) ?? [0, 0, 1]
  const solid: ConvexSolid =
    next() < 0.5
      ? {
          shape: 'box',
          name: 'box',
          centre: place(90),
          axes:
            next() < 0.3
              ? [
                  [1, 0, 0],
                  [0, 1, 0],
                  [0, 0, 1],
                ]
              : [axis, side, cross(axis, side)],
          half: [between(5, 80), between(5, 80), between(5, 80)],
        }
      : {
          shape: 'cylinder',
          name: 'cylinder',
          centre: place(90),
          axis,
          halfLength: between(5, 80),
          radius: between(5, 50),
        }
  const kind = Math.floor(next() * 4)
  const motion: Motion =
    kind === 0
      ? { kind: 'still', from: 0, to: 0 }
      : kind === 1
        ? { kind: 'shift', along: direction(), from: -between(0, 150), to: 0 }
        : kind === 2
          ? { kind: 'turn', origin: place(60), axis: direction(), from: -between(0, 2), to: between(0, 2) }
          : {
              kind: 'drawn',
              origin: [0, 45, 0],
              sense: next() < 0.5 ? 1 : -1,
              feed: 40,
              from: 0,
              to: between(0.2, 3),
            }
  return { jobs: [{ parts, solids: [solid], motion, reads: { plus: 0, per: 1 } }], radius }
}
