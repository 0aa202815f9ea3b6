import { describe, expect, test } from 'vitest'
import { addScaled, DEG, distance, turnDirection, type Vec3 } from '../../src/geometry/vec3.ts'
import { endFrame, type Rows, reversedRows, rowsOf, rowsToPoints, startFrame } from '../../src/solve/rows.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import type { SolvedRoute } from '../../src/solve/types.ts'
import { type Random, seeded } from '../random.ts'

const SEED = 20261125
const ROUTES = 100_000

/** A legal route: every straight at least 0, every angle from 0.1° to 179°; 1 to 10 bends. */
function legalRows(random: Random): { rows: Rows; clr: number } {
  const clr = random.between(10, 120)
  const bends = Array.from({ length: random.whole(1, 10) }, (_, k) => ({
    angle: random.next() < 0.1 ? random.between(0.1, 179) : random.between(5, 150),
    rotation:
      k === 0
        ? null
        : random.next() < 0.2
          ? [0, 90, -90, 180][random.whole(0, 3)]!
          : random.between(-180, 180),
  }))
  return {
    clr,
    rows: { bends, straights: Array.from({ length: bends.length + 1 }, () => random.between(0, 600)) },
  }
}

function frameOf(random: Random) {
  const direction = random.direction()
  const other = random.direction()
  const along = other[0] * direction[0] + other[1] * direction[1] + other[2] * direction[2]
  const raw = addScaled(other, direction, -along)
  const l = Math.hypot(...raw)
  const normal: Vec3 = [raw[0] / l, raw[1] / l, raw[2] / l]
  return {
    origin: [random.between(-2e3, 2e3), random.between(-2e3, 2e3), random.between(0, 2e3)] as Vec3,
    direction,
    normal,
  }
}

function solved(points: readonly Vec3[], clr: number): SolvedRoute {
  const result = solveRoute(
    points,
    points.map((_, i) => `p${i}`),
    clr,
  )
  if (!result.ok) throw new Error(result.problem.message)
  return result.route
}

const metres = (points: readonly Vec3[]) =>
  Math.max(1, points.reduce((sum, p, i) => (i ? sum + distance(p, points[i - 1]!) : 0), 0) / 1000)

/** Angles apart on the circle, degrees. */
const apart = (a: number, b: number) => Math.abs(((a - b + 540) % 360) - 180)

describe(`random legal routes, seed ${SEED}`, () => {
  test(`${ROUTES} routes come back from their rows within 1e-9 mm per metre, and rows from their points`, () => {
    const random = seeded(SEED)
    let worstPoint = 0
    let worstStraight = 0
    for (let i = 0; i < ROUTES; i++) {
      const { rows, clr } = legalRows(random)
      const points = rowsToPoints(rows, clr, frameOf(random))
      const route = solved(points, clr)
      const again = rowsToPoints(rowsOf(route), clr, startFrame(route))
      const m = metres(points)
      for (let k = 0; k < points.length; k++)
        worstPoint = Math.max(worstPoint, distance(points[k]!, again[k]!) / m)
      expect(route.straights.length).toBe(rows.straights.length)
      rows.straights.forEach((s, k) => {
        worstStraight = Math.max(worstStraight, Math.abs(s - route.straights[k]!) / m)
      })
    }
    expect(worstPoint).toBeLessThan(1e-9)
    expect(worstStraight).toBeLessThan(1e-9)
  })

  test('turning, moving and scaling change nothing but what must change', () => {
    const random = seeded(SEED + 1)
    for (let i = 0; i < 5000; i++) {
      const { rows, clr } = legalRows(random)
      const points = rowsToPoints(rows, clr, frameOf(random))
      const by = random.between(0.2, 5)
      const axis = random.direction()
      const angle = random.between(-Math.PI, Math.PI)
      const move = frameOf(random).origin
      const moved = points.map(p => addScaled(move, turnDirection(p, axis, angle), by))
      const a = solved(points, clr)
      const b = solved(moved, clr * by)
      const m = metres(points) * Math.max(1, by)
      expect(Math.abs(b.developedLength - a.developedLength * by) / m).toBeLessThan(1e-8)
      a.bends.forEach((bend, k) => {
        // A bend of θ loses 1/sin θ of its plane's direction to rounding.
        const blur = 1e-9 / Math.min(...[bend, a.bends[k - 1] ?? bend].map(x => Math.sin(x.angle * DEG)))
        expect(Math.abs(bend.angle - b.bends[k]!.angle)).toBeLessThan(1e-9)
        if (bend.rotation !== null) expect(apart(bend.rotation, b.bends[k]!.rotation!)).toBeLessThan(blur)
      })
    }
  })

  test('run backwards, every plane rotation keeps its sign; mirrored, it flips', () => {
    const random = seeded(SEED + 2)
    for (let i = 0; i < 5000; i++) {
      const { rows, clr } = legalRows(random)
      const points = rowsToPoints(rows, clr, frameOf(random))
      const route = solved(points, clr)
      const back = solved([...points].reverse(), clr)
      const wanted = reversedRows(rowsOf(route))
      const mirror = solved(
        points.map(([x, y, z]): Vec3 => [-x, y, z]),
        clr,
      )
      wanted.bends.forEach((bend, k) => {
        const blur = 1e-7
        expect(Math.abs(bend.angle - back.bends[k]!.angle)).toBeLessThan(1e-9)
        if (bend.rotation !== null) expect(apart(bend.rotation, back.bends[k]!.rotation!)).toBeLessThan(blur)
        const own = route.bends[k]!.rotation
        if (own !== null) expect(apart(-own, mirror.bends[k]!.rotation!)).toBeLessThan(blur)
      })
      const again = rowsToPoints(wanted, clr, endFrame(route)).reverse()
      again.forEach((p, k) => {
        expect(distance(p, points[k]!) / metres(points)).toBeLessThan(2e-9)
      })
    }
  })
})
