import { expect, test } from 'vitest'
import type { Run, SkidDocument, Solid } from '../../src/document/types.ts'
import { box, cylinder, sphere } from '../../src/geometry/convex.ts'
import { addScaled, anySquareTo, scale, turnDirection, type Vec3 } from '../../src/geometry/vec3.ts'
import { clearances } from '../../src/skid/clearance.ts'
import { clearanceReport } from '../../src/skid/clearanceCommand.ts'
import { liveGaps } from '../../src/skid/liveGap.ts'
import { measureBetween } from '../../src/skid/measureBetween.ts'
import { rowsToPoints } from '../../src/solve/rows.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'
import { discsFromBody, lengthOfLine, partsOf } from '../geometry/discsOfTube.ts'
import { type Random, seeded } from '../random.ts'

/** A lagged run whose insulation begins inside its first bend or just before it, and a solid near its start; invented. */
interface Scene {
  readonly run: Run
  readonly solid: Solid
  readonly truth: number
}

function sceneOf(random: Random, k: number): Scene {
  const od = [25, 10, 9.525, random.between(6, 25)][k % 4]!
  const clr = od * (k % 4 === 3 ? random.between(1.6, 3.5) : 2)
  const insulation = k % 3 === 0 ? random.between(4, 40) : 20
  const insulationCutBack = [5, 24, 0, random.between(0, 2 * clr)][(k >> 2) % 4]!
  const way = random.direction()
  const side = anySquareTo(way)
  const bends = random.whole(1, 2)
  const origin = scale(random.direction(), 200)
  const straights = Array.from({ length: bends + 1 }, (_, i) =>
    random.next() < 0.4 ? 0 : clr * random.between(0, i === 0 ? 0.5 : 3),
  )
  const turns = Array.from({ length: bends }, () => ({
    angle: random.next() < 0.5 ? 90 : random.between(20, 150),
    rotation: random.between(-170, 170),
  }))
  const parts = partsOf({
    at: origin,
    way,
    side,
    clr,
    straights,
    bends: turns.map((b, i) => ({
      angle: (b.angle * Math.PI) / 180,
      // The first bend's plane is the frame's.
      rotation: i === 0 ? 0 : (b.rotation * Math.PI) / 180,
    })),
  })
  const points = rowsToPoints(
    {
      straights,
      bends: turns.map((b, i) => ({ angle: b.angle, rotation: i === 0 ? null : b.rotation })),
    },
    clr,
    { origin, direction: way, normal: crossed(way, side) },
  )
  const run: Run = {
    ...runOf('r', points.slice(1, -1), {
      endA: { kind: 'free', at: points[0]! },
      endB: { kind: 'free', at: points[points.length - 1]! },
      clr,
      insulation,
    }),
    insulationCutBack,
    tube: { catalogueId: null, od, wall: 1, material: 'invented' },
  }
  const at = addScaled(origin, random.direction(), random.between(od / 2, od + insulation + 60))
  const size: Vec3 = [random.between(5, 80), random.between(5, 80), random.between(5, 80)]
  const axis = random.direction()
  const base = { id: 's', name: 'Solid', kind: 'equipment' as const, fitting: null, at }
  const [solid, body]: readonly [Solid, { signedDistance: (p: Vec3) => { value: number } }] =
    k % 3 === 0
      ? [{ ...base, shape: 'box', size, turn: [20, -35, 71] }, box(at, size, [20, -35, 71])]
      : k % 3 === 1
        ? [{ ...base, shape: 'sphere', radius: size[0] / 2 }, sphere(at, size[0] / 2)]
        : [
            { ...base, shape: 'cylinder', axis, length: size[0], radius: size[1] / 2 },
            cylinder(at, axis, size[0], size[1] / 2),
          ]
  const away = (p: Vec3) => body.signedDistance(p).value
  const whole = lengthOfLine(parts)
  const bare = discsFromBody(parts, [0, whole], od / 2, away)
  const [from, to] = [insulationCutBack, whole - insulationCutBack]
  const lagged = to > from ? discsFromBody(parts, [from, to], od / 2 + insulation, away) : Infinity
  return { run, solid, truth: Math.min(bare, lagged) }
}
const crossed = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]

const skid = (run: Run, solid: Solid): SkidDocument => ({ ...documentOf([run]), solids: [solid] })
const backwards = (run: Run): Run => ({
  ...run,
  endA: run.endB,
  endB: run.endA,
  vertices: [...run.vertices].reverse(),
})

const SEED = 9190
const SCENES = 40
test(`${SCENES} lopsided scenes of insulation that begins in or by a bend: the gap is that of the sections, end for end, turned, asked within anything and by every tool (seed ${SEED})`, () => {
  const random = seeded(SEED)
  const seen = { apart: 0, clash: 0 }
  for (let k = 0; k < SCENES; k++) {
    const { run, solid, truth } = sceneOf(random, k)
    const ask = (r: Run, s: Solid, within = 1000) =>
      clearances(skid(r, s), solveDocument(skid(r, s)), { within }).find(p => p.kind === 'solid')
        ?.clearance ?? Number.NaN
    const gap = ask(run, solid)
    const what = `scene ${k}: ${gap}, by sections ${truth}`
    if (truth > 0.002) {
      seen.apart++
      expect(Math.abs(gap - truth), what).toBeLessThan(0.002)
      expect(ask(run, solid, Math.max(gap - 0.01, 0)), what).toBeNaN()
    } else {
      seen.clash++
      expect(gap, what).toBeLessThan(0.002)
    }
    const near = (other: number, how: string) =>
      expect(Math.abs(other - gap), `${what}, ${how}`).toBeLessThan(2e-6)
    near(ask(backwards(run), solid), 'end for end')
    if (solid.shape !== 'box') {
      const axis = random.direction()
      const put = (p: Vec3): Vec3 => addScaled([90, -410, 33], turnDirection(p, axis, 1 + (k % 5)), 1)
      const end = (e: Run['endA']): Run['endA'] => (e.kind === 'free' ? { ...e, at: put(e.at) } : e)
      const turned: Run = {
        ...run,
        endA: end(run.endA),
        endB: end(run.endB),
        vertices: run.vertices.map(v => ({ ...v, at: put(v.at) })),
      }
      const moved: Solid = {
        ...solid,
        at: put(solid.at),
        ...(solid.shape === 'cylinder' ? { axis: turnDirection(solid.axis, axis, 1 + (k % 5)) } : {}),
      }
      near(ask(turned, moved), 'turned')
    }
    const d = skid(run, solid)
    const solved = solveDocument(d)
    const within = Math.max(gap, 0) + 0.02
    near(ask(run, solid, within), `within ${within}`)
    near(
      clearanceReport(d, solved, within).pairs.find(p => p.b === 'Solid')?.clearance ?? Number.NaN,
      'in the report',
    )
    const measured = measureBetween(d, solved, { kind: 'tube', run: 'r' }, { kind: 'solid', solid: 's' })
    near('gap' in measured ? measured.gap : Number.NaN, 'by the measuring tool')
    const live = liveGaps(d, 'r', [], 1000)(run, solved[0]!)
    if (live?.id === 's') near(live.gap, 'at the cursor')
  }
  expect(seen.apart).toBeGreaterThan(SCENES / 4)
  expect(seen.clash).toBeGreaterThan(SCENES / 8)
})
