import { describe, expect, test } from 'vitest'
import { box, type Convex, cylinder, halfSpace, sphere } from '../../src/geometry/convex.ts'
import { type Shape, type Swept, sweep } from '../../src/geometry/swept.ts'
import { sweptConvexGap } from '../../src/geometry/sweptConvexGap.ts'
import { type Gap, selfGap, sweptGap } from '../../src/geometry/sweptGap.ts'
import { sweptMeshGap } from '../../src/geometry/sweptMeshGap.ts'
import { sweptPointGap } from '../../src/geometry/sweptPointGap.ts'
import {
  addScaled,
  cross,
  dot,
  length,
  scale,
  sub,
  turnDirection,
  unit,
  type Vec3,
} from '../../src/geometry/vec3.ts'
import { type Random, seeded } from '../random.ts'
import { boxMesh } from './boxMesh.ts'
import { pointToTube, randomShapes, sampledDistance } from './sampledTube.ts'

const line = (start: Vec3, end: Vec3): Shape => ({
  kind: 'line',
  start,
  end,
  direction: unit(sub(end, start))!,
})
const rod = (start: Vec3, end: Vec3, radius: number) => sweep([line(start, end)], radius)

describe('a cut end that touches', () => {
  test('flush with a face whose edge lies within the radius, it touches: of a box and of the same box as a mesh', () => {
    const tube = rod([0, 0, 0], [100, 0, 0], 6)
    expect(sweptConvexGap(tube, box([150, 53, 0], [100, 100, 100], [0, 0, 0]), Infinity)!.gap).toBeCloseTo(
      0,
      6,
    )
    expect(sweptMeshGap(tube, boxMesh([100, 3, -50], [200, 103, 50]), Infinity)!.gap).toBeCloseTo(0, 6)
  })

  test('on another tube’s axis, half a diameter frees it, however far past it goes', () => {
    const other = rod([0, -50, 0], [0, 50, 0], 6)
    for (const past of [-5, -1, 0, 1, 4, 6, 9]) {
      const g = sweptGap(rod([-100, 0, 0], [past, 0, 0], 6), other, Infinity)!
      expect(g.gap, `${past} past the axis`).toBeCloseTo(-Math.min(6 + past, 12), 6)
      expect(g.errorBound).toBeLessThanOrEqual(0.01)
    }
  })

  test('two end faces in one plane touch, coaxial, beside each other or turned against each other', () => {
    for (const off of [0, 3, 9, 11.9])
      expect(
        sweptGap(rod([-80, 0, 0], [0, 0, 0], 6), rod([0, off, 0], [70, off, 0], 6), Infinity)!.gap,
        `axes ${off} apart`,
      ).toBeCloseTo(0, 6)
    expect(
      sweptGap(rod([-80, 0, 0], [1.5, 0, 0], 6), rod([0, 4, 0], [70, 4, 0], 6), Infinity)!.gap,
    ).toBeCloseTo(-1.5, 6)
  })

  test('coaxial tubes one inside the other overlap by both radii or by the shorter way out', () => {
    expect(
      sweptGap(rod([-80, 0, 0], [40, 0, 0], 6), rod([0, 0, 0], [70, 0, 0], 4), Infinity)!.gap,
    ).toBeCloseTo(-10, 6)
    expect(
      sweptGap(rod([-80, 0, 0], [7, 0, 0], 6), rod([0, 0, 0], [70, 0, 0], 4), Infinity)!.gap,
    ).toBeCloseTo(-7, 6)
  })

  test('through a thin plate by 1 mm it overlaps by plate and 1 mm, and under a floor by its lower rim', () => {
    const plate = box([98, 0, 0], [4, 200, 200], [0, 0, 0])
    expect(sweptConvexGap(rod([0, 0, 0], [101, 0, 0], 6), plate, Infinity)!.gap).toBeCloseTo(-5, 6)
    const d: Vec3 = [Math.cos(Math.PI / 6), 0, Math.sin(Math.PI / 6)]
    const floor = halfSpace([0, 0, 0], [0, 0, 1])
    // The rim hangs r·cos 30° below the end's centre.
    expect(sweptConvexGap(rod([0, 0, 5], addScaled([0, 0, 5], d, 200), 8), floor, Infinity)!.gap).toBeCloseTo(
      5 - 8 * Math.cos(Math.PI / 6),
      6,
    )
  })
})

/** A turn about an odd axis, with or without a mirror, a move and a scale. */
interface Motion {
  readonly name: string
  readonly by: number
  readonly mirrored: boolean
  readonly point: (p: Vec3) => Vec3
  readonly way: (v: Vec3) => Vec3
}
function motion(random: Random, by: number, mirrored: boolean): Motion {
  const [axis, angle] = [random.direction(), random.between(0.3, 6)]
  const move: Vec3 = [random.between(-900, 900), random.between(-900, 900), random.between(-900, 900)]
  const way = (v: Vec3): Vec3 => turnDirection(mirrored ? [v[0], v[1], -v[2]] : v, axis, angle)
  const point = (p: Vec3): Vec3 => addScaled(move, way(p), by)
  return { name: `scale ${by}${mirrored ? ', mirrored' : ''}`, by, mirrored, point, way }
}
const movedShape = (m: Motion, s: Shape): Shape =>
  s.kind === 'line'
    ? { kind: 'line', start: m.point(s.start), end: m.point(s.end), direction: m.way(s.direction) }
    : {
        kind: 'arc',
        start: m.point(s.start),
        centre: m.point(s.centre),
        radius: s.radius * m.by,
        // An axis of turning is no vector: a mirror turns it round once more.
        normal: scale(m.way(s.normal), m.mirrored ? -1 : 1),
        direction: m.way(s.direction),
        angleRad: s.angleRad,
      }
const movedTube = (m: Motion, t: Swept) =>
  sweep(
    t.shapes.map(s => movedShape(m, s)),
    t.radius * m.by,
  )
const reversed = (t: Swept): Swept =>
  sweep(
    [...t.shapes].reverse().map((s): Shape => {
      if (s.kind === 'line')
        return { kind: 'line', start: s.end, end: s.start, direction: scale(s.direction, -1) }
      const end = addScaled(s.centre, turnDirection(sub(s.start, s.centre), s.normal, s.angleRad), 1)
      const way = scale(turnDirection(s.direction, s.normal, s.angleRad), -1)
      return { ...s, start: end, direction: way, normal: scale(s.normal, -1) }
    }),
    t.radius,
  )

/** A drum, a ball or a plane, and how to move it: boxes are turned by angles, so they come as cylinders' like here. */
function randomBody(random: Random, k: number, at: Vec3): { shape: Convex; moved: (m: Motion) => Convex } {
  const size = random.between(5, 60)
  const [height, axis] = [random.between(2, 120), random.direction()]
  if (k % 3 === 0)
    return {
      shape: cylinder(at, axis, height, size),
      moved: m => cylinder(m.point(at), m.way(axis), height * m.by, size * m.by),
    }
  if (k % 3 === 1) return { shape: sphere(at, size), moved: m => sphere(m.point(at), size * m.by) }
  return { shape: halfSpace(at, axis), moved: m => halfSpace(m.point(at), m.way(axis)) }
}

const shortEnded = (random: Random, origin: Vec3, r: number): Swept =>
  sweep(
    randomShapes(
      random.next,
      random.whole(0, 3),
      origin,
      r * random.between(1.5, 4),
      r * random.between(0, 2.5),
    ),
    r,
  )
const place = (random: Random, side: number): Vec3 => [
  random.between(-side, side),
  random.between(-side, side),
  random.between(-side, side),
]

const SEED = 5151
test(`60 tubes that end right after a bend are measured as they are, to 0.01 mm (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let apart = 0
  for (let k = 0; k < 60; k++) {
    const r = random.between(4, 10)
    const a = shortEnded(random, [0, 0, 0], r)
    const at = place(random, 90)
    if (k % 2 === 0) {
      const b = shortEnded(random, at, r)
      const g = sweptGap(a, b, Infinity)!
      const sampled = Math.min(
        sampledDistance(a, p => pointToTube(p, b)),
        sampledDistance(b, p => pointToTube(p, a)),
      )
      expect(g.errorBound, `pair ${k}`).toBeLessThanOrEqual(0.01)
      if (sampled < 0.001) expect(g.gap, `pair ${k}: overlap missed`).toBeLessThan(0.01)
      else {
        apart++
        expect(Math.abs(g.gap - sampled), `pair ${k}: ${g.gap}, sampled ${sampled}`).toBeLessThan(0.01)
        expect(pointToTube(g.pointA, a), `pair ${k}: point A`).toBeLessThan(1e-5)
        expect(pointToTube(g.pointB, b), `pair ${k}: point B`).toBeLessThan(1e-5)
      }
    } else {
      const radius = random.between(10, 40)
      const g = sweptConvexGap(a, sphere(at, radius), Infinity)!
      const sampled = pointToTube(at, a) - radius
      expect(g.errorBound, `ball ${k}`).toBeLessThanOrEqual(0.01)
      if (sampled > 0) {
        apart++
        expect(Math.abs(g.gap - sampled), `ball ${k}`).toBeLessThan(1e-5)
        expect(sweptPointGap(a, at).gap, `point ${k}`).toBeCloseTo(sampled + radius, 6)
      } else expect(g.gap, `ball ${k}: overlap missed`).toBeLessThan(1e-6)
    }
  }
  expect(apart).toBeGreaterThan(30)
})

const MOVES = 40
test(`gap and depth of ${MOVES} random pairs are the same turned, moved, mirrored, scaled, end for end and exchanged (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  let deep = 0
  const same = (name: string, g: Gap, h: Gap, by = 1) => {
    expect(h.gap / by, name).toBeCloseTo(g.gap, 6)
    expect(h.errorBound, name).toBeLessThanOrEqual(0.01)
  }
  for (let k = 0; k < MOVES; k++) {
    const r = random.between(4, 10)
    const [a, b] = [shortEnded(random, [0, 0, 0], r), shortEnded(random, place(random, 35), r * 1.3)]
    const body = randomBody(random, k, place(random, 45))
    const [gap, toBody] = [sweptGap(a, b, Infinity)!, sweptConvexGap(a, body.shape, Infinity)!]
    if (gap.gap < 0) deep++
    if (toBody.gap < 0) deep++
    same(`pair ${k}, exchanged`, gap, sweptGap(b, a, Infinity)!)
    same(`pair ${k}, end for end`, gap, sweptGap(reversed(a), reversed(b), Infinity)!)
    same(`body ${k}, end for end`, toBody, sweptConvexGap(reversed(a), body.shape, Infinity)!)
    for (const m of [motion(random, 1, false), motion(random, 1, true), motion(random, 2, false)]) {
      same(`pair ${k}, ${m.name}`, gap, sweptGap(movedTube(m, a), movedTube(m, b), Infinity)!, m.by)
      same(`body ${k}, ${m.name}`, toBody, sweptConvexGap(movedTube(m, a), body.moved(m), Infinity)!, m.by)
    }
  }
  expect(deep).toBeGreaterThan(MOVES / 3)
})

test(`no shift by less than the depth frees 30 random overlaps, and where sides meet the depth along the shown points does (seed ${SEED + 2})`, () => {
  const random = seeded(SEED + 2)
  let overlaps = 0
  while (overlaps < 30) {
    const r = random.between(4, 10)
    const [a, b] = [shortEnded(random, [0, 0, 0], r), shortEnded(random, place(random, 25), r)]
    const g = sweptGap(a, b, Infinity)!
    if (g.gap > -0.1) continue
    overlaps++
    expect(length(sub(g.pointB, g.pointA))).toBeCloseTo(-g.gap, 5)
    for (let n = 0; n < 8; n++) {
      const way = random.direction()
      const moved = sweep(
        a.shapes.map(s => movedShape(shift(scale(way, 0.999 * g.gap)), s)),
        a.radius,
      )
      expect(sweptGap(moved, b, Infinity)!.gap, `overlap ${overlaps}, shift ${n}`).toBeLessThan(0)
    }
  }
})
const shift = (by: Vec3): Motion => ({
  name: 'shift',
  by: 1,
  mirrored: false,
  point: p => addScaled(p, by, 1),
  way: v => v,
})

test(`180 random contacts made to touch exactly are neither clash nor gap (seed ${SEED + 3})`, () => {
  const random = seeded(SEED + 3)
  for (let k = 0; k < 180; k++) {
    const m = motion(random, 1, k % 2 === 1)
    const [r, s] = [random.between(3, 12), random.between(3, 12)]
    const off = random.between(-1, 1)
    const tilt = random.between(-1.2, 1.2)
    const tube = rod([-90, 0, 0], [0, 0, 0], r)
    const touching: (Swept | Convex)[] = [
      // End face on a flat end, on a side, on a rim that stands away, on a ball and on a plane.
      rod([0, off * (r + s) * 0.99, 0], [80, off * (r + s) * 0.99, 0], s),
      rod([s, off * r, -50], [s, off * r, 50], s),
      tilted(tilt, s, off * r),
      sphere([30, off * r, 0], 30),
      cylinder([10, off * (r + 30) * 0.99, 0], [1, 0, 0], 20, 30),
      cylinder([30, off * r, 0], [0, 0, 1], 60, 30),
      halfSpace([0, 0, 0], [-1, 0, 0]),
      // Side on side, side on a rim.
      rod([-45 + 30 * off, -r - s, -30], [-45 + 30 * off, -r - s, 40], s),
      rod([-45 + 30 * off, -r, 0], [-45 + 30 * off, -r - 50, 0], s),
    ]
    const other = touching[k % touching.length]!
    const moved = movedTube(m, tube)
    const gap =
      'shapes' in other
        ? sweptGap(moved, movedTube(m, other), Infinity)!
        : sweptConvexGap(tube, other, Infinity)!
    expect(Math.abs(gap.gap), `contact ${k % touching.length}, case ${k}`).toBeLessThan(1e-6)
  }
})

/** A rod beside the plane x = 0 that stands on it with one place of its rim, that place `across` from the x axis. */
function tilted(tilt: number, radius: number, across: number): Swept {
  const way: Vec3 = [Math.cos(tilt), 0, Math.sin(tilt)]
  const rim = unit(sub([-1, 0, 0], scale(way, -way[0])))
  const start: Vec3 = rim ? addScaled([0, across, 0], rim, -radius) : [0, across, 0]
  return rod(start, addScaled(start, way, 70), radius)
}

test('a tube that comes back to its own cut end is as deep in it however the two overlap', () => {
  const bend = (start: Vec3, direction: Vec3, R: number): Shape => ({
    kind: 'arc',
    start,
    centre: addScaled(start, cross([0, 0, 1], direction), R),
    radius: R,
    normal: [0, 0, 1],
    direction,
    angleRad: Math.PI / 2,
  })
  const loop = (past: number) =>
    sweep(
      [
        line([0, 0, 0], [100, 0, 0]),
        bend([100, 0, 0], [1, 0, 0], 20),
        line([120, 20, 0], [120, 60, 0]),
        bend([120, 60, 0], [0, 1, 0], 20),
        line([100, 80, 0], [70, 80, 0]),
        bend([70, 80, 0], [-1, 0, 0], 20),
        line([50, 60, 0], [50, past, 0]),
      ],
      6,
    )
  for (const past of [10, 6, 3, 0, -4])
    expect(selfGap(loop(past), Infinity)!.gap, `ends at ${past}`).toBeCloseTo(past - 6, 6)
  expect(dot([1, 0, 0], selfGap(loop(3), Infinity)!.pointA)).toBeCloseTo(50, 3)
})
