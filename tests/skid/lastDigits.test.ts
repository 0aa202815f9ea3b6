import { expect, test } from 'vitest'
import type { Fitting, Run, SkidDocument, Solid } from '../../src/document/types.ts'
import { addScaled, scale, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import { clearances } from '../../src/skid/clearance.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import { sleeveOf } from '../../src/skid/insulation.ts'
import { lengthOfShapes, rodsOf } from '../../src/skid/outside.ts'
import { overruns } from '../../src/solve/overruns.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, port, runOf } from '../document/sampleDocument.ts'
import { type Random, seeded } from '../random.ts'

/** A straight tube out of a port that stands on a drum, a ball or a box; invented. */
function standing(
  kind: Solid['kind'],
  od: number,
  nut: number,
  long: number,
  { at, way }: { at: Vec3; way: Vec3 },
  shape: number,
): SkidDocument {
  const base = { id: 'b', name: 'Body', kind, fitting: null }
  const side = unit([way[1] - way[2], way[2] - way[0], way[0] - way[1]]) ?? [1, 0, 0]
  const body: Solid =
    shape === 0
      ? { ...base, shape: 'cylinder', at: addScaled(at, way, -93), axis: side, length: 132, radius: 93 }
      : shape === 1
        ? { ...base, shape: 'sphere', at: addScaled(at, way, -70), radius: 70 }
        : { ...base, shape: 'plane', at, normal: way }
  const fitting: Fitting = { ...port('f', at, way), straightNeeded: nut }
  const run: Run = {
    ...runOf('r', [], {
      endA: { kind: 'port', fitting: 'f' },
      endB: { kind: 'free', at: addScaled(at, way, long) },
    }),
    tube: { catalogueId: null, od, wall: 1, material: 'invented' },
  }
  return { ...documentOf([run], [fitting]), solids: [body] }
}
const placed = (random: Random) => ({
  at: scale(random.direction(), random.between(0, 900)),
  way: random.direction(),
})

const SEED = 2410
test(`a square tube that only moves away from its own body is never too close to it, whatever its length, on 400 bodies (seed ${SEED})`, () => {
  const random = seeded(SEED)
  for (const [kind, od, nut] of [
    ['floor', 12, 10],
    ['equipment', 6, 10],
    ['structure', 9.525, 24],
  ] as const)
    for (let long = 11; long < 78; long++)
      for (const pose of [{ at: [-1, 95, -120] as Vec3, way: [0, 0, 1] as Vec3 }, placed(random)]) {
        const d = standing(kind, od, nut, long, pose, long % 3)
        expect(
          clearanceFindings(d, solveDocument(d)).map(f => f.rule),
          `${kind}, OD ${od}, ${long} mm`,
        ).toEqual([])
      }
})

test(`a tube as long as its port’s stub is no pair with its own body, however the skid is turned (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  for (let k = 0; k < 120; k++) {
    const d = standing('fitting', 9.525, 24, 24, placed(random), k % 3)
    expect(clearances(d, solveDocument(d), { within: 100 }), `pose ${k}`).toEqual([])
  }
})

test(`cut-backs that meet leave no insulation, however their sum is rounded (seed ${SEED + 2})`, () => {
  const random = seeded(SEED + 2)
  for (let k = 0; k < 200; k++) {
    const way = random.direction()
    const [start, end] = [scale(random.direction(), 700), random.between(30, 90)] as const
    const shapes = [{ kind: 'line' as const, start, end: addScaled(start, way, end), direction: way }]
    const whole = lengthOfShapes(shapes)
    const first = end * random.between(0.2, 0.8)
    const cutBack = [first, end - first + random.between(-1e-12, 1e-12)] as const
    expect(rodsOf({ shapes, radius: 5, insulation: 20, cutBack }).length, `tube ${k}`).toBe(1)
    expect(sleeveOf(cutBack, whole)).toBeNull()
    expect(sleeveOf([cutBack[0], cutBack[1] - 0.01], whole)).not.toBeNull()
  }
})

test(`a straight of nothing between two bends is no overrun, however it is rounded (seed ${SEED + 3})`, () => {
  const random = seeded(SEED + 3)
  let below = 0
  for (let k = 0; k < 200; k++) {
    const { at, way } = placed(random)
    const side = unit([way[1], -way[0], 0]) ?? [1, 0, 0]
    const corner = addScaled(at, way, 100)
    const next = addScaled(corner, side, 72)
    const run = runOf('r', [corner, next], {
      endA: { kind: 'free', at },
      endB: { kind: 'free', at: addScaled(next, way, 36) },
      clr: 36,
    })
    const { route } = solveDocument(documentOf([run]))[0]!
    if (route!.straights.some(s => s < 0)) below++
    expect(overruns(route!), `run ${k}`).toEqual([])
  }
  expect(below).toBeGreaterThan(20)
  expect(overruns({ straights: [5, -0.001, 3] })).toEqual([{ straight: 1, by: 0.001 }])
})
