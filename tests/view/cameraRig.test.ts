import { expect, test } from 'vitest'
import { addScaled, distance, dot, sub, type Vec3 } from '../../src/geometry/vec3.ts'
import {
  basis,
  fitted,
  fittedBetweenBars,
  LOOKS,
  project,
  type Rig,
  rayAt,
  zoomed,
} from '../../src/view/scene/cameraRig.ts'

const frame = { width: 900, height: 600 }
const rig = (projection: Rig['projection'], look: keyof typeof LOOKS): Rig => ({
  target: [120, -40, 300],
  span: 800,
  projection,
  ...LOOKS[look],
})
const all = (['perspective', 'orthographic'] as const).flatMap(p =>
  (Object.keys(LOOKS) as (keyof typeof LOOKS)[]).map(l => [p, l] as const),
)

test.each(all)(
  '%s from %s: the ray through a point’s screen position passes through the point',
  (p, look) => {
    const r = rig(p, look)
    const at: Vec3 = [200, 30, 250]
    const seen = project(r, frame, at)!
    const ray = rayAt(r, frame, seen.x, seen.y)
    const nearest = addScaled(ray.origin, ray.direction, dot(sub(at, ray.origin), ray.direction))
    expect(distance(nearest, at)).toBeLessThan(1e-6)
  },
)

test.each(all)('%s from %s: fitted points lie within the picture and fill it one way', (p, look) => {
  const points = Array.from(
    { length: 8 },
    (_, i): Vec3 => [i & 1 ? 1000 : 0, i & 2 ? 300 : 0, i & 4 ? 600 : 0],
  )
  const r = fitted(rig(p, look), frame, points)
  let reach = 0
  for (const at of points) {
    const seen = project(r, frame, at)!
    reach = Math.max(reach, Math.abs(seen.x - 450) / 450, Math.abs(seen.y - 300) / 300)
  }
  expect(reach).toBeCloseTo(0.8, 6)
})

test.each(all)('%s from %s: what is fitted lies under no row of buttons at the top or bottom', (p, look) => {
  const points = Array.from(
    { length: 8 },
    (_, i): Vec3 => [i & 1 ? 400 : 0, i & 2 ? 300 : 0, i & 4 ? 900 : 0],
  )
  for (const size of [
    { width: 556, height: 346 },
    { width: 820, height: 450 },
  ]) {
    const r = fittedBetweenBars(rig(p, look), size, points)
    let reach = 0
    for (const at of points) {
      const seen = project(r, size, at)!
      expect(seen.y).toBeGreaterThan(40)
      expect(seen.y).toBeLessThan(size.height - 40)
      expect(seen.x).toBeGreaterThan(0)
      expect(seen.x).toBeLessThan(size.width)
      reach = Math.max(
        reach,
        Math.abs(seen.x - size.width / 2) / (size.width / 2),
        Math.abs(seen.y - size.height / 2) / (size.height / 2 - 40),
      )
    }
    expect(reach).toBeGreaterThan(0.7)
  }
})

test.each(all)('%s from %s: zooming keeps what lies under the cursor there', (p, look) => {
  const r = rig(p, look)
  const { right, up } = basis(r)
  const at = addScaled(addScaled(r.target, right, 100), up, 50)
  const seen = project(r, frame, at)!
  const after = project(zoomed(r, frame, seen.x, seen.y, 0.5), frame, at)!
  expect(Math.hypot(after.x - seen.x, after.y - seen.y)).toBeLessThan(1e-6)
})

test('from the front x runs to the right and z up; from the top y runs up', () => {
  const front = rig('orthographic', 'front')
  const [a, b] = [project(front, frame, [0, 0, 0])!, project(front, frame, [100, 0, 50])!]
  expect(b.x - a.x).toBeCloseTo(75, 9)
  expect(b.y - a.y).toBeCloseTo(-37.5, 9)
  const top = rig('orthographic', 'top')
  expect(project(top, frame, [0, 100, 0])!.y - project(top, frame, [0, 0, 0])!.y).toBeCloseTo(-75, 9)
})
