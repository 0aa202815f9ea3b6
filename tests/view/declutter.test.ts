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
