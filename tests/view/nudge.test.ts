import { expect, test } from 'vitest'
import { LOOKS, type Rig } from '../../src/view/scene/cameraRig.ts'
import { nudgeDirection } from '../../src/view/scene/gestures/nudge.ts'

const rig = (look: keyof typeof LOOKS): Rig => ({
  target: [0, 0, 0],
  span: 100,
  projection: 'perspective',
  ...LOOKS[look],
})
const way = (key: string, look: keyof typeof LOOKS) => nudgeDirection(key, rig(look))?.map(v => v + 0)

test('in the isometric and the top view the arrows go along x and y', () => {
  for (const look of ['iso', 'top'] as const) {
    expect(way('ArrowRight', look)).toEqual([1, 0, 0])
    expect(way('ArrowUp', look)).toEqual([0, 1, 0])
    expect(way('ArrowDown', look)).toEqual([0, -1, 0])
  }
})
test('seen level on, up is z', () => {
  expect(way('ArrowUp', 'front')).toEqual([0, 0, 1])
  expect(way('ArrowRight', 'front')).toEqual([1, 0, 0])
  expect(way('ArrowRight', 'right')).toEqual([0, 1, 0])
  expect(way('ArrowLeft', 'back')).toEqual([1, 0, 0])
})
test('page up and page down go along z in every view, other keys nowhere', () => {
  expect(way('PageUp', 'top')).toEqual([0, 0, 1])
  expect(way('PageDown', 'left')).toEqual([0, 0, -1])
  expect(way('q', 'top')).toBeUndefined()
})
