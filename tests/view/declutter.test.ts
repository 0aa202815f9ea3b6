import { expect, test } from 'vitest'
import { declutter } from '../../src/view/scene/declutter.ts'

const box = (x: number, rank: number) => ({ x, y: 0, width: 40, height: 16, rank })

test('of two boxes that cover each other the one that matters more is shown', () => {
  expect(declutter([box(0, 5), box(20, 2), box(70, 5)])).toEqual([false, true, true])
})
test('a box that is hidden hides no other', () => {
  expect(declutter([box(0, 1), box(30, 2), box(60, 3)])).toEqual([true, false, true])
})
test('what is not in the picture is not shown and covers nothing', () => {
  expect(declutter([null, box(0, 3)])).toEqual([false, true])
})
test('a name does not look out from under a toolbar; a gap’s figure is shown all the same', () => {
  const bar = { x: 10, y: 0, width: 100, height: 30 }
  expect(declutter([box(0, 2), box(120, 2), box(60, -1)], [bar])).toEqual([false, true, true])
})
