import { expect, test } from 'vitest'
import { dragTitle } from '../../src/view/scene/gestures/dragTitle.ts'

test('a drag says that a coordinate stays only while no other is typed for it', () => {
  expect(dragTitle('point 3', 'z', null, {})).toBe('Move point 3, z stays')
  expect(dragTitle('point 3', 'z', null, { x: 5 })).toBe('Move point 3, z stays')
  expect(dragTitle('point 3', 'z', null, { x: 5, z: 250 })).toBe('Move point 3, z as typed')
  expect(dragTitle('end B', 'x', null, { x: 0 })).toBe('Move end B, x as typed')
  expect(dragTitle('point 3', 'z', 'y', { y: 4 })).toBe('Move point 3 along y')
})
