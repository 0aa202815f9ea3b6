import { expect, test } from 'vitest'
import { covers, keepInside } from '../../src/view/scene/overlay/keepInside.ts'
import { seeded } from '../random.ts'

const frame = { width: 556, height: 346 }
const label = { x: 24, y: -44, width: 330, height: 22 }

test('a gap’s label near the right edge stands on the other side of its gap, whole', () => {
  expect(keepInside({ x: 100, y: 200 }, label, frame, [])).toMatchObject({ x: 124, y: 156 })
  expect(keepInside({ x: 400, y: 200 }, label, frame, [])).toMatchObject({ x: 400 - 24 - 330, y: 156 })
})

test('it goes below its gap where a toolbar lies above', () => {
  const bar = { x: 0, y: 0, width: 556, height: 70 }
  expect(keepInside({ x: 100, y: 90 }, label, frame, [bar])).toMatchObject({ x: 124, y: 90 + 44 - 22 })
})

const SEED = 914
test(`wherever the gap is, its label is whole in the picture, and under no bar: 500 places, seed ${SEED}`, () => {
  const random = seeded(SEED)
  const bars = [
    { x: 8, y: 8, width: 230, height: 60 },
    { x: 100, y: 310, width: 440, height: 30 },
  ]
  for (let i = 0; i < 500; i++) {
    const at = { x: random.whole(0, 556), y: random.whole(0, 346) }
    const box = keepInside(at, label, frame, bars)
    expect(box.x).toBeGreaterThanOrEqual(6)
    expect(box.y).toBeGreaterThanOrEqual(6)
    expect(box.x + box.width).toBeLessThanOrEqual(550)
    expect(box.y + box.height).toBeLessThanOrEqual(340)
    expect(bars.some(bar => covers(bar, box))).toBe(false)
  }
})
