import { Quaternion, Vector3 } from 'three'
import { expect, test } from 'vitest'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'

const SEED = 60

/**
 * The torsion angle as a person would measure it with three.js: lay the middle leg along the line of sight, away from
 * the eye, and read how far round the last leg stands from the first, clockwise positive (IUPAC Compendium of Chemical
 * Terminology, "torsion angle": positive when the front bond must be turned clockwise to eclipse the rear one).
 */
function torsionByThree([a, b, c, d]: readonly [Vec3, Vec3, Vec3, Vec3]): number {
  const v = (p: Vec3) => new Vector3(...p)
  const sight = v(c).sub(v(b)).normalize()
  const look = new Quaternion().setFromUnitVectors(sight, new Vector3(0, 0, -1))
  const front = v(a).sub(v(b)).applyQuaternion(look)
  const rear = v(d).sub(v(c)).applyQuaternion(look)
  // Seen along −z, x is to the right and y up: clockwise is the falling angle.
  const clockwise = Math.atan2(front.y, front.x) - Math.atan2(rear.y, rear.x)
  const deg = (clockwise * 180) / Math.PI
  return deg - 360 * Math.round(deg / 360)
}

test(`plane rotation is the torsion angle that three.js measures, 2,000 random routes, seed ${SEED}`, () => {
  const random = seeded(SEED)
  const place = (): Vec3 => [random.between(-300, 300), random.between(-300, 300), random.between(-300, 300)]
  let compared = 0
  for (let i = 0; i < 2000; i++) {
    const points = [place(), place(), place(), place()] as const
    const result = solveRoute(points, ['A', 'v1', 'v2', 'B'], 5)
    if (!result.ok || result.route.bends.length < 2) continue
    // Near a straight line the plane is not defined well enough to compare.
    if (result.route.bends.some(b => b.angle < 1 || b.angle > 179)) continue
    const apart = result.route.bends[1]!.rotation! - torsionByThree(points)
    expect(Math.abs(apart - 360 * Math.round(apart / 360))).toBeLessThan(1e-6)
    compared++
  }
  expect(compared).toBeGreaterThan(1900)
})
