import { expect, test } from 'vitest'
import { box, cylinder, sphere } from '../../src/geometry/convex.ts'
import { cutShapes, type Shape, type Swept, sweep } from '../../src/geometry/swept.ts'
import { sweptConvexGap } from '../../src/geometry/sweptConvexGap.ts'
import { type Gap, sweptGap } from '../../src/geometry/sweptGap.ts'
import { sweptMeshGap } from '../../src/geometry/sweptMeshGap.ts'
import {
  add,
  addScaled,
  anySquareTo,
  cross,
  distance,
  scale,
  sub,
  turnDirection,
  type Vec3,
} from '../../src/geometry/vec3.ts'
import { type Random, seeded } from '../random.ts'
import { boxMesh } from './boxMesh.ts'
import { discAtPlace, discsFromBody, type Line, lengthOfLine, partsOf } from './discsOfTube.ts'

/** A tube that begins inside its first bend, often at its very start, and ends anywhere, often inside the same bend. */
function cutTube(random: Random, at: Vec3, thick: boolean) {
  const clr = random.between(15, 60)
  const radius = clr * (thick ? random.between(1.02, 1.7) : random.between(0.2, 0.95))
  const way = random.direction()
  const bends = random.whole(1, 2)
  const line: Line = {
    at,
    way,
    side: anySquareTo(way),
    clr,
    straights: [0, ...Array.from({ length: bends }, () => clr * random.between(0, 3))],
    bends: Array.from({ length: bends }, () => ({
      angle: random.between(0.2, 2.9),
      rotation: random.between(-3, 3),
    })),
  }
  const parts = partsOf(line)
  const whole = lengthOfLine(parts)
  const first = line.bends[0]!.angle * clr
  const from = random.next() < 0.3 ? 0 : first * random.next()
  const to = random.next() < 0.4 ? from + (first - from) * random.between(0.2, 1) : whole
  const shapes = parts.map(
    (p): Shape =>
      p.clr === 0
        ? { kind: 'line', start: p.at, end: addScaled(p.at, p.way, p.long), direction: p.way }
        : {
            kind: 'arc',
            start: p.at,
            centre: addScaled(p.at, p.side, p.clr),
            radius: p.clr,
            normal: cross(p.way, p.side),
            direction: p.way,
            angleRad: p.long / p.clr,
          },
  )
  const { shapes: cut, ...of } = cutShapes(shapes, from, to)
  return { tube: sweep(cut, radius, of), parts, stretch: [from, to] as const, radius }
}

const SEED = 4404
const TUBES = 90
test(`${TUBES} tubes that begin inside a bend, thicker than it or not, are as far from a box, a ball, a drum and a mesh as their sections are (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let apart = 0
  for (let k = 0; k < TUBES; k++) {
    const { tube, parts, stretch, radius } = cutTube(random, [0, 0, 0], k % 2 === 0)
    const at = scale(random.direction(), random.between(radius / 2, 3 * radius + 40))
    const size: Vec3 = [random.between(5, 80), random.between(5, 80), random.between(5, 80)]
    const turn: Vec3 = [random.between(-180, 180), random.between(-90, 90), random.between(-180, 180)]
    const solid = [
      () => box(at, size, turn),
      () => sphere(at, size[0] / 2),
      () => cylinder(at, random.direction(), size[0], size[1] / 2),
      () => box(at, size, [0, 0, 0]),
    ][k % 4]!()
    const half = scale(size, 0.5)
    const found =
      k % 4 === 3
        ? sweptMeshGap(tube, boxMesh(sub(at, half), add(at, half)), Infinity)!
        : sweptConvexGap(tube, solid, Infinity)!
    const truth = discsFromBody(parts, stretch, radius, p => solid.signedDistance(p).value)
    if (found.gap > 0 || k % 4 !== 3) expect(found.errorBound, `tube ${k}`).toBeLessThanOrEqual(0.01)
    if (truth < 0.001) {
      // In a mesh nothing is inside.
      if (k % 4 !== 3) expect(found.gap, `tube ${k}: overlap missed`).toBeLessThan(0.002)
    } else {
      apart++
      expect(Math.abs(found.gap - truth), `tube ${k}: ${found.gap}, by its sections ${truth}`).toBeLessThan(
        0.002,
      )
    }
  }
  expect(apart).toBeGreaterThan(TUBES / 3)
})

const BALLS = 10
test(`${BALLS} balls are as deep in a tube that begins inside a bend as thinning of its sections says (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  let deep = 0
  while (deep < BALLS) {
    const { tube, parts, stretch, radius } = cutTube(random, [0, 0, 0], deep % 2 === 0)
    const [from, to] = stretch
    const size = random.between(5, 40)
    const at = addScaled(
      discAtPlace(parts, from).c,
      random.direction(),
      radius + size * random.between(0.2, 0.8),
    )
    const fromPoint = (p: Vec3) => distance(p, at)
    const toMiddle = discsFromBody(parts, stretch, radius, fromPoint, 1)
    const found = sweptConvexGap(tube, sphere(at, size), Infinity)!
    if (toMiddle < 0.1 || toMiddle > size - 0.1) continue
    deep++
    const most = Math.min(radius, (to - from) / 2)
    let [still, free] = [0, most]
    for (let step = 0; step < 16; step++) {
      const by = (still + free) / 2
      if (discsFromBody(parts, [from + by, to - by], radius - by, p => fromPoint(p) - size, 1) > 0) free = by
      else still = by
    }
    let centre = Infinity
    for (let s = from; s <= to; s += (to - from) / 4000)
      centre = Math.min(centre, fromPoint(discAtPlace(parts, s).c))
    if (free === most) continue
    const depth = Math.min(Math.max(free, size - toMiddle), size + radius - centre)
    expect(Math.abs(found.gap + depth), `ball ${deep}: ${found.gap}, by thinning ${-depth}`).toBeLessThan(
      0.01,
    )
  }
})

const reversed = (t: Swept): Swept =>
  sweep(
    [...t.shapes].reverse().map((s): Shape => {
      if (s.kind === 'line')
        return { kind: 'line', start: s.end, end: s.start, direction: scale(s.direction, -1) }
      const end = add(s.centre, turnDirection(sub(s.start, s.centre), s.normal, s.angleRad))
      const way = scale(turnDirection(s.direction, s.normal, s.angleRad), -1)
      return { ...s, start: end, direction: way, normal: scale(s.normal, -1) }
    }),
    t.radius,
  )

const PAIRS = 14
test(`${PAIRS} tubes that begin inside a bend have one gap or depth turned, twice as large, end for end, and within any limit (seed ${SEED + 2})`, () => {
  const random = seeded(SEED + 2)
  for (let k = 0; k < PAIRS; k++) {
    const { tube: a, radius } = cutTube(random, [0, 0, 0], k % 4 === 0)
    const { tube: b } = cutTube(random, scale(random.direction(), random.between(0, 2 * radius + 40)), false)
    const [axis, angle] = [random.direction(), random.between(0.3, 6)]
    const [at, drum, high, wide] = [
      scale(random.direction(), random.between(0, 2 * radius + 40)),
      random.direction(),
      random.between(5, 80),
      random.between(5, 60),
    ]
    const turn = (v: Vec3): Vec3 => turnDirection(v, axis, angle)
    const put = (p: Vec3, by: number): Vec3 => addScaled([310, -500, 77], turn(p), by)
    const moved = (t: Swept, by: number): Swept =>
      sweep(
        t.shapes.map(
          (s): Shape =>
            s.kind === 'line'
              ? { kind: 'line', start: put(s.start, by), end: put(s.end, by), direction: turn(s.direction) }
              : {
                  ...s,
                  start: put(s.start, by),
                  centre: put(s.centre, by),
                  radius: s.radius * by,
                  normal: turn(s.normal),
                  direction: turn(s.direction),
                },
        ),
        t.radius * by,
      )
    const toDrum = (t: Swept, limit = Infinity) => sweptConvexGap(t, cylinder(at, drum, high, wide), limit)
    const movedDrum = (by: number) => cylinder(put(at, by), turn(drum), high * by, wide * by)
    const same = (what: string, g: Gap, h: Gap | null, by = 1) => {
      expect(Math.abs((h?.gap ?? Number.NaN) / by - g.gap), `pair ${k}, ${what}`).toBeLessThan(2e-6)
    }
    const [g, h] = [toDrum(a)!, sweptGap(a, b, Infinity)!]
    for (const by of [1, 2]) {
      same(`drum ${by}`, g, sweptConvexGap(moved(a, by), movedDrum(by), Infinity), by)
      same(`tube ${by}`, h, sweptGap(moved(a, by), moved(b, by), Infinity), by)
    }
    same('drum, end for end', g, toDrum(reversed(a)))
    same('tube, end for end', h, sweptGap(reversed(a), reversed(b), Infinity))
    same('exchanged', h, sweptGap(b, a, Infinity))
    for (const more of [0.01, 3, 40]) {
      same(`drum within ${more} more`, g, toDrum(a, g.gap + more))
      same(`tube within ${more} more`, h, sweptGap(a, b, h.gap + more))
    }
    expect(toDrum(a, g.gap - 0.01), `pair ${k}: drum within less`).toBeNull()
    expect(sweptGap(a, b, h.gap - 0.01), `pair ${k}: tube within less`).toBeNull()
  }
})
