import { expect, test } from 'vitest'
import type { Solid } from '../../src/document/types.ts'
import { add, cross, dot, length, scale, sub, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import { sectionOutline } from '../../src/skid/sectionOutline.ts'
import { shapeOfSolid } from '../../src/skid/solidShape.ts'
import { seeded } from '../random.ts'
import { randomSolid } from './randomScene.ts'

const area = (outline: readonly Vec3[]): number =>
  length(
    outline.reduce<Vec3>(
      (sum, p, i) =>
        add(
          sum,
          scale(cross(sub(p, outline[0]!), sub(outline[(i + 1) % outline.length]!, outline[0]!)), 0.5),
        ),
      [0, 0, 0],
    ),
  )
const base = { id: 's', name: 'Solid', kind: 'equipment' as const, fitting: null }
const box: Solid = { ...base, shape: 'box', at: [10, 0, 0], size: [100, 60, 20], turn: [0, 0, 0] }
const drum: Solid = { ...base, shape: 'cylinder', at: [0, 0, 0], axis: [0, 0, 2], length: 400, radius: 50 }

test('a box cut square gives its cross-section, cut along a body diagonal of a cube a regular hexagon', () => {
  expect(area(sectionOutline(box, [10, 5, 0], [1, 0, 0]))).toBeCloseTo(60 * 20, 9)
  expect(sectionOutline(box, [61, 0, 0], [1, 0, 0])).toEqual([])
  const cube: Solid = { ...base, shape: 'box', at: [0, 0, 0], size: [10, 10, 10], turn: [0, 0, 0] }
  const hexagon = sectionOutline(cube, [0, 0, 0], unit([1, 1, 1])!)
  expect(hexagon).toHaveLength(6)
  // Side 10/√2: area 3√3/2 · 50.
  expect(area(hexagon)).toBeCloseTo(75 * Math.sqrt(3), 9)
})

test('a drum cut across gives a circle, cut at 60° to its axis an ellipse, cut along it a rectangle', () => {
  const polygon = (72 / 2) * Math.sin((2 * Math.PI) / 72)
  expect(area(sectionOutline(drum, [0, 0, 7], [0, 0, 1]))).toBeCloseTo(50 * 50 * polygon, 6)
  const slant: Vec3 = [Math.sin(Math.PI / 6), 0, Math.cos(Math.PI / 6)]
  expect(area(sectionOutline(drum, [0, 0, 0], slant))).toBeCloseTo((50 * 50 * polygon) / slant[2], 6)
  // Half a step off the polygon's corners, so that the chord is cut and not an edge.
  const along = sectionOutline(drum, [0, 0, 0], unit([Math.cos(0.04), Math.sin(0.04), 0])!)
  expect(area(along)).toBeGreaterThan(400 * 100 * 0.998)
  expect(area(along)).toBeLessThanOrEqual(400 * 100)
})

const SEED = 611
test(`corners lie on the plane and on the outside, in order around (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let cut = 0
  for (let k = 0; k < 300; k++) {
    const solid = randomSolid(random, 's', [0, 0, 0])
    const normal = random.direction()
    const at = scale(random.direction(), random.between(0, 60))
    const outline = sectionOutline(solid, at, normal)
    if (outline.length === 0) continue
    cut++
    const shape = shapeOfSolid(solid)
    const middle = scale(outline.reduce(add, [0, 0, 0] as Vec3), 1 / outline.length)
    for (const [i, p] of outline.entries()) {
      expect(Math.abs(dot(sub(p, at), normal))).toBeLessThan(1e-9)
      // A chord of a 72-gon lies at most r(1 − cos 2.5°) inside.
      expect(shape.signedDistance(p).value).toBeLessThan(1e-9)
      expect(shape.signedDistance(p).value).toBeGreaterThan(-0.2)
      const next = outline[(i + 1) % outline.length]!
      expect(dot(cross(sub(p, middle), sub(next, middle)), normal)).toBeGreaterThanOrEqual(-1e-9)
    }
  }
  expect(cut).toBeGreaterThan(100)
})
