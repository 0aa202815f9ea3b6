import { expect, test } from 'vitest'
import { pointOnShape, type Swept, sweep } from '../../src/geometry/swept.ts'
import { selfGap } from '../../src/geometry/sweptGap.ts'
import { distance } from '../../src/geometry/vec3.ts'
import { seeded } from '../random.ts'
import { randomShapes } from './sampledTube.ts'

interface Spot {
  readonly point: readonly [number, number, number]
  readonly turn: number
  readonly end: boolean
}

/** Places along the centre line, about `step` mm apart, with the turn up to each. */
function spots(tube: Swept, step: number): Spot[] {
  let turn = 0
  const all: Spot[] = []
  tube.shapes.forEach((shape, index) => {
    const size = shape.kind === 'line' ? distance(shape.start, shape.end) : shape.radius * shape.angleRad
    const n = Math.ceil(size / step)
    for (let k = 0; k <= n; k++) {
      const t = (shape.kind === 'line' ? 1 : shape.angleRad) * (k / n)
      const end = (index === 0 && k === 0) || (index === tube.shapes.length - 1 && k === n)
      all.push({ point: pointOnShape(shape, t), turn: turn + (shape.kind === 'line' ? 0 : t), end })
    }
    if (shape.kind === 'arc') turn += shape.angleRad
  })
  return all
}

const SEED = 314
const STEP = 0.6
test(`40 random tubes: the gap to itself is that of densely sampled centre lines half a turn apart (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let compared = 0
  for (let k = 0; k < 40; k++) {
    const clr = random.between(20, 40)
    const tube = sweep(randomShapes(random.next, random.whole(3, 6), [0, 0, 0], clr), clr * 0.2)
    const found = selfGap(tube, Infinity)
    const places = spots(tube, STEP)
    let least = Infinity
    let atEnd = false
    for (const a of places)
      for (const b of places)
        if (b.turn - a.turn >= Math.PI) {
          const d = distance(a.point, b.point)
          if (d < least) {
            least = d
            atEnd = a.end || b.end
          }
        }
    if (least === Infinity) {
      expect(found, `tube ${k}`).toBeNull()
      continue
    }
    const rounded = least - 2 * tube.radius
    expect(found!.errorBound).toBeLessThanOrEqual(0.01)
    // Lower by a step on each side at most: the next samples that are still half a turn apart.
    expect(found!.gap, `tube ${k}`).toBeGreaterThan(rounded - 2 * STEP - 0.01)
    if (atEnd) continue
    compared++
    expect(found!.gap, `tube ${k}: optimistic`).toBeLessThanOrEqual(rounded + found!.errorBound)
  }
  expect(compared).toBeGreaterThan(15)
})
