import { expect, test } from 'vitest'
import type { Run, Solid } from '../../src/document/types.ts'
import { turnedAxes } from '../../src/geometry/convex.ts'
import { cross, dot, sub, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import { clearances } from '../../src/skid/clearance.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import type { SolvedRoute } from '../../src/solve/types.ts'
import { seeded } from '../random.ts'
import { type PortScene, portScene } from './portScene.ts'

/** How far a point is from a body, negative inside: by coordinates, apart from the code under test. */
function bodiesOf({
  document,
  meshes,
}: PortScene): { id: string; fitting: string | null; away: (p: Vec3) => number }[] {
  const boxAway = (q: readonly number[]) =>
    Math.hypot(...q.map(x => Math.max(x, 0))) + Math.min(Math.max(...q), 0)
  const away =
    (s: Solid) =>
    (p: Vec3): number => {
      const r = sub(p, s.at)
      switch (s.shape) {
        case 'sphere':
          return Math.hypot(...r) - s.radius
        case 'plane':
          return dot(r, unit(s.normal)!)
        case 'cylinder': {
          const h = dot(r, unit(s.axis)!)
          return boxAway([Math.sqrt(Math.max(dot(r, r) - h * h, 0)) - s.radius, Math.abs(h) - s.length / 2])
        }
        case 'box':
          return boxAway(turnedAxes(s.turn).map((axis, k) => Math.abs(dot(r, axis)) - s.size[k]! / 2))
      }
    }
  return [
    ...document.solids.map(s => ({ id: s.id, fitting: s.fitting, away: away(s) })),
    ...meshes.map(m => {
      const [low, high] = [0, 1].map(k =>
        [0, 1, 2].map(c => Math[k === 0 ? 'min' : 'max'](...m.tree.corners.filter((_, i) => i % 3 === c))),
      ) as [number[], number[]]
      const inBox = (p: Vec3) => boxAway(p.map((x, c) => Math.max(low[c]! - x, x - high[c]!)))
      return { id: m.id, fitting: m.fitting, away: inBox }
    }),
  ]
}

/** Places of a run's body, outside and in, a millimetre and less apart, with how far along the tube from its nearer port. */
function* places(
  run: Run,
  route: SolvedRoute,
  cut: readonly [number, number],
): Iterable<{ p: Vec3; a: number; b: number }> {
  const whole = route.developedLength
  for (const piece of route.pieces) {
    const long = piece.to - piece.from
    const steps = Math.ceil(long / 0.8)
    for (let k = 0; k <= steps; k++) {
      const s = (long * k) / steps
      let [at, x, y]: [Vec3, Vec3, Vec3] = [piece.start, [1, 0, 0], [0, 1, 0]]
      if (piece.kind === 'line') {
        at = piece.start.map((c, i) => c + piece.direction[i]! * s) as unknown as Vec3
        x = unit(cross(piece.direction, Math.abs(piece.direction[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]))!
        y = cross(piece.direction, x)
      } else {
        const t = s / piece.radius
        const out = unit(sub(piece.start, piece.centre))!
        x = out.map((c, i) => c * Math.cos(t) + piece.direction[i]! * Math.sin(t)) as unknown as Vec3
        y = piece.normal
        at = piece.centre.map((c, i) => c + x[i]! * piece.radius) as unknown as Vec3
      }
      const a = piece.from + s
      const lagged = a >= cut[0] && whole - a >= cut[1] && cut[0] + cut[1] < whole
      const r = run.tube.od / 2 + (lagged ? run.insulation : 0)
      for (const share of [0, 0.5, 0.8, 1])
        for (let n = 0; n < (share === 0 ? 1 : 20); n++) {
          const [c, q] = [Math.cos((n * Math.PI) / 10) * r * share, Math.sin((n * Math.PI) / 10) * r * share]
          yield { p: at.map((z, i) => z + x[i]! * c + y[i]! * q) as unknown as Vec3, a, b: whole - a }
        }
    }
  }
}

const SEED = 777
const SCENES = 25
test(`${SCENES} scenes sampled densely, leaving out nothing but the stubs: no clash of a run and a body is missing, and none is said that is not there (seed ${SEED})`, () => {
  const random = seeded(SEED)
  const seen = { clash: 0, apart: 0, own: 0 }
  for (let k = 0; k < SCENES; k++) {
    const scene = portScene(random)
    const { document, meshes } = scene
    const solved = solveDocument(document)
    const pairs = clearances(document, solved, { within: 1000, meshes })
    const clashes = clearanceFindings(document, solved, meshes).filter(f => f.rule === 'clash')
    document.runs.forEach((run, i) => {
      const route = solved[i]!.route!
      // Bends that overrun a leg have no tube to sample.
      if (route.straights.some(s => s < 0)) return
      const ports = [run.endA, run.endB].map(
        e => document.fittings.find(f => e.kind === 'port' && f.id === e.fitting)!,
      )
      const needed = ports.map(p => p.straightNeeded) as [number, number]
      for (const body of bodiesOf(scene)) {
        // A stub: as long as the nut's straight, or the first straight when that is shorter; a hair where there is none.
        const straights = [route.straights[0]!, route.straights[route.straights.length - 1]!]
        const stub = ports.map((port, end) => {
          const stands = body.fitting === port.id || Math.abs(body.away(port.position)) <= run.tube.od / 40
          return stands ? Math.min(Math.max(needed[end]!, run.tube.od / 40), straights[end]!) : -1
        })
        let least = Infinity
        for (const { p, a, b } of places(run, route, needed)) {
          if (a < stub[0]! || b < stub[1]!) continue
          least = Math.min(least, body.away(p))
        }
        const what = `scene ${k}, ${run.id} and ${body.id}: sampled ${least}`
        const pair = pairs.find(q => q.aId === run.id && q.bId === body.id)
        const clash = clashes.find(f => f.where.run === run.id && f.where.other === body.id)
        if (stub.some(s => s >= 0)) seen.own++
        if (least < -0.05) {
          seen.clash++
          expect(clash, what).toBeDefined()
        } else if (least > 0.6) {
          seen.apart++
          expect(clash, what).toBeUndefined()
          // A sample lies within half a step and half a chord of every place.
          if (least < 900 && stub.every(s => s < 0)) {
            expect(pair!.clearance, what).toBeLessThanOrEqual(least + 0.01)
            expect(pair!.clearance, what).toBeGreaterThan(least - 0.6)
          }
        }
      }
    })
  }
  expect(seen.clash).toBeGreaterThan(20)
  expect(seen.apart).toBeGreaterThan(100)
  expect(seen.own).toBeGreaterThan(20)
})
