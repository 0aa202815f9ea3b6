import { expect, it } from 'vitest'
import { layOut, stockOf } from '../../src/bender/layOut.ts'
import { tubeAtDie } from '../../src/bender/tubeAtDie.ts'
import { addScaled, cross, dot, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { frameView } from '../../src/view/bending/frameView.ts'
import { inView } from '../../src/view/bending/inView.ts'
import type { Programme } from '../../src/view/bending/programme.ts'
import { lopsidedRun } from '../bender/randomRun.ts'
import { seeded } from '../random.ts'

const FOV = 36

/** Where a point stands in the picture, from its middle: −1 … 1 is inside. */
function seen(camera: Vec3, forward: Vec3, aspect: number, p: Vec3): { x: number; y: number; depth: number } {
  const right = unit(cross(forward, [0, 0, 1]))!
  const d = addScaled(p, camera, -1)
  const depth = dot(d, forward)
  const tall = Math.tan((FOV * Math.PI) / 360) * depth
  return { x: dot(d, right) / (tall * aspect), y: dot(d, cross(right, forward)) / tall, depth }
}

const seed = 90125
it(`the bench camera has every point in the picture and one at an edge of its room, whatever the points (seed ${seed})`, () => {
  const random = seeded(seed)
  for (let n = 0; n < 300; n++) {
    const forward = unit([random.between(-1, 1), random.between(-1, 1), random.between(-0.95, 0.9)])!
    const aspect = random.between(0.4, 2.5)
    const points = Array.from(
      { length: 12 },
      (): Vec3 => [random.between(-2000, 300), random.between(-400, 400), random.between(-300, 500)],
    )
    const camera = frameView(points, forward, FOV, aspect)
    const at = points.map(p => seen(camera, forward, aspect, p))
    expect(Math.min(...at.map(s => s.depth))).toBeGreaterThan(0)
    const filled = Math.max(...at.map(s => Math.max(Math.abs(s.x), Math.abs(s.y))))
    expect(filled).toBeLessThanOrEqual(0.9 + 1e-9)
    // Closer is not possible: along one of the two directions both edges of the room are reached.
    const reach = (values: number[], low: number, high: number) =>
      Math.min(Math.max(...values) / high, Math.min(...values) / -low)
    const full = Math.max(
      reach(
        at.map(s => s.x),
        0.9,
        0.9,
      ),
      reach(
        at.map(s => s.y),
        0.9,
        0.62,
      ),
    )
    expect(full).toBeCloseTo(1, 6)
  }
})

it('a bent leg behind the die is in the picture of every motion, from every side', () => {
  const { run, tooling } = lopsidedRun()
  const order: OrderedBend[] = [3, 0, 2, 1].map(bend => ({ bend, lead: 'A' }))
  const layout = layOut(run, tooling, null, { hand: 'left', kind: 'rotaryDraw', order })
  const programme = { layout, stock: stockOf(run), tooling } as Programme
  for (const step of [1, 2, 3])
    for (const motion of ['putIn', 'slide', 'turn', 'bend', 'armBack', 'takeOut'] as const)
      for (const forward of [
        [0.8, 0.2, -0.56],
        [0.02, 0, -1],
        [0.12, 0.86, -0.42],
      ] as Vec3[]) {
        const way = unit(forward)!
        const camera = frameView(inView(programme, step, motion), way, FOV, 1.4)
        for (const fraction of [0, 1])
          for (const piece of tubeAtDie(layout, programme.stock, step, motion, fraction).pieces)
            if (piece.kind === 'arc')
              for (const p of [piece.start, piece.end]) {
                const s = seen(camera, way, 1.4, p)
                expect(Math.max(Math.abs(s.x), Math.abs(s.y))).toBeLessThan(1)
                expect(s.depth).toBeGreaterThan(0)
              }
      }
})
