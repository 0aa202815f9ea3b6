import { expect, test } from 'vitest'
import type { StraightNeed } from '../../src/checks/needs.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import type { SolvedRoute } from '../../src/solve/types.ts'
import type { NeededStraight } from '../../src/view/panels/neededStraight.ts'
import { fitScale, pinned, toPx, unrolled } from '../../src/view/panels/unrolledLayout.ts'

function solved(points: [number, number, number][], clr: number): SolvedRoute {
  const result = solveRoute(
    points,
    points.map((_, i) => `p${i}`),
    clr,
  )
  if (!result.ok) throw new Error(result.problem.message)
  return result.route
}
const three = () =>
  solved(
    [
      [0, 0, 0],
      [100, 0, 0],
      [100, 100, 0],
      [100, 100, 100],
    ],
    20,
  )
const need = (name: string, length: number, from: 'start' | 'end'): StraightNeed => ({
  rule: 'straightClamp',
  name,
  need: length,
  whole: length,
  beyond: 0,
  from,
  someOrdersOnly: false,
})
const needs = (...each: StraightNeed[]): NeededStraight => ({
  length: Math.max(0, ...each.map(n => n.need)),
  why: '',
  from: 'start',
  all: each,
})

test('stretches follow each other from the stock end at A to the last of the trim', () => {
  const drawn = unrolled(three(), [], 10, 15, 5)
  const arc = (Math.PI / 2) * 20
  expect(drawn.insertionA).toEqual({ from: 0, to: 10 })
  expect(drawn.straights.map(s => s.length)).toEqual([80, 60, 80])
  expect(drawn.straights[0]).toMatchObject({ from: 10, to: 90 })
  expect(drawn.bends[0]!.from).toBe(90)
  expect(drawn.bends[0]!.to).toBeCloseTo(90 + arc, 12)
  expect(drawn.straights[1]!.from).toBe(drawn.bends[0]!.to)
  // 282.831853 is the developed length of this route in the shared check values.
  expect(drawn.faceB - drawn.faceA).toBeCloseTo(282.831853, 6)
  expect(drawn.end).toBeCloseTo(282.831853 + 30, 6)
})

test('a turn stands over the middle of its straight with its sign', () => {
  const drawn = unrolled(three(), [], 0, 0, 0)
  expect(drawn.turns).toHaveLength(1)
  expect(drawn.turns[0]!.rotation).toBeCloseTo(90, 12)
  expect(drawn.turns[0]!.at).toBeCloseTo(80 + 10 * Math.PI + 30, 9)
})

test('a need is shaded from the end of the straight that asks for it', () => {
  const drawn = unrolled(three(), [needs(need('nut', 24, 'start'), need('clamp', 30, 'end'))], 0, 0, 0)
  expect(drawn.straights[0]!.needed.map(n => [n.from, n.to])).toEqual([
    [0, 24],
    [50, 80],
  ])
  expect(drawn.straights[0]!.missing).toBe(0)
})

test('what a straight lacks is its need less its length', () => {
  const drawn = unrolled(three(), [needs(), needs(need('clamp', 75, 'end')), needs()], 0, 0, 0)
  expect(drawn.straights[1]!.missing).toBeCloseTo(15, 12)
})

test('an overrun straight runs backwards, and lacks its overlap and its need', () => {
  const route = solved(
    [
      [0, 0, 0],
      [100, 0, 0],
      [100, 30, 0],
      [200, 30, 0],
    ],
    20,
  )
  const drawn = unrolled(route, [needs(), needs(need('clamp', 25, 'end')), needs()], 0, 0, 0)
  const s = drawn.straights[1]!
  expect(s.length).toBeCloseTo(-10, 12)
  expect(s.to).toBeLessThan(s.from)
  expect(s.missing).toBeCloseTo(35, 12)
  expect(drawn.bends[1]!.from).toBeCloseTo(drawn.bends[0]!.to - 10, 12)
})

test('everything fits between the margins, and a pinned end stays where it is', () => {
  const drawn = unrolled(three(), [], 10, 15, 5)
  const scale = fitScale(drawn, 30, 970)
  expect(toPx(scale, drawn.start)).toBeCloseTo(30, 9)
  expect(toPx(scale, drawn.end)).toBeCloseTo(970, 9)
  const held = pinned(scale, drawn.faceB + 50, toPx(scale, drawn.faceB))
  expect(held.pxPerMm).toBe(scale.pxPerMm)
  expect(toPx(held, drawn.faceB + 50)).toBeCloseTo(toPx(scale, drawn.faceB), 9)
})
