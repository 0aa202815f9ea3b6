import { expect, test } from 'vitest'
import { leastPayable } from '../../src/outputs/leastPayable.ts'
import type { NestKind } from '../../src/outputs/nestKind.ts'
import { nestOnStock } from '../../src/outputs/nestOnStock.ts'
import { patternBound } from '../../src/outputs/patternBound.ts'
import { roundPatterns } from '../../src/outputs/roundPatterns.ts'
import { seeded } from '../random.ts'
import { U120 } from './falkenauer.ts'

const counted = (all: readonly number[]) => {
  const sizes = [...new Set(all)].sort((a, b) => b - a)
  return { sizes, counts: sizes.map(s => all.filter(x => x === s).length) }
}
const never = () => false

test('rounded up, the bound is the published least number of bars of every u120 instance', () => {
  for (const u of U120) {
    const { sizes, counts } = counted(u.sizes)
    const { bound } = patternBound(sizes, counts, [{ room: 150, cost: 1, count: null }], never)!
    expect(Math.ceil(bound - 1e-6), u.name).toBe(u.best)
  }
})

const SEED = 21
test(`on 400 small jobs with limited and free stock the bound is never above the least cost, and often is it; seed ${SEED}`, () => {
  const random = seeded(SEED)
  let tight = 0
  for (let t = 0; t < 400; t++) {
    const all = Array.from({ length: random.whole(1, 9) }, () => random.whole(5, 60))
    const kinds: NestKind[] = [
      { room: random.whole(60, 100), cost: random.whole(60, 100), count: null },
      ...(random.next() < 0.5
        ? [{ room: random.whole(60, 130), cost: random.whole(40, 130), count: null }]
        : []),
      ...(random.next() < 0.4 ? [{ room: random.whole(60, 90), cost: random.whole(10, 70), count: 1 }] : []),
      ...(random.next() < 0.5 ? [{ room: random.whole(20, 70), cost: 0, count: random.whole(1, 2) }] : []),
    ]
    const least = nestOnStock(all, kinds)
    expect(least.proven).toBe(true)
    const { sizes, counts } = counted(all)
    const { bound } = patternBound(sizes, counts, kinds, never)!
    const payable = leastPayable(kinds)(bound)
    expect(bound).toBeLessThanOrEqual(least.cost + 1e-6)
    expect(payable).toBeLessThanOrEqual(least.cost + 1e-6)
    if (payable > least.cost - 1e-6) tight++
    // Rounded patterns are a cutting: every piece once, no bar overfull, no more stock than there is.
    const bars = roundPatterns(sizes, counts, kinds, 0.15)
    if (!bars) continue
    const cut = bars.flatMap(b => b.fill.map(c => sizes[c]!)).sort((a, b) => a - b)
    expect(cut).toEqual([...all].sort((a, b) => a - b))
    for (const b of bars)
      expect(b.fill.reduce((sum, c) => sum + sizes[c]!, 0)).toBeLessThanOrEqual(kinds[b.kind]!.room + 1e-6)
    kinds.forEach((k, i) => {
      expect(bars.filter(b => b.kind === i).length).toBeLessThanOrEqual(k.count ?? Infinity)
    })
  }
  expect(tight).toBeGreaterThan(150)
})

test('stopped at any time it is a bound still, and prices by length are where it begins', () => {
  const sizes = [61.5, 47.25, 33]
  const kinds = [{ room: 100, cost: 100, count: null }]
  const bounds: number[] = []
  const full = patternBound(sizes, [5, 4, 7], kinds, bound => {
    bounds.push(bound)
    return false
  })!
  expect(bounds[0]).toBeGreaterThan(500)
  expect(bounds).toEqual([...bounds].sort((a, b) => a - b))
  expect(patternBound(sizes, [5, 4, 7], kinds, () => true)!.bound).toBe(bounds[0])
  expect(full.bound).toBeLessThanOrEqual(
    nestOnStock([...Array(5).fill(61.5), ...Array(4).fill(47.25), ...Array(7).fill(33)], kinds).cost,
  )
})

test('with nothing but limited stock there is no bound by prices', () => {
  expect(patternBound([5], [1], [{ room: 10, cost: 1, count: 3 }], never)).toBeNull()
})

test('two hundred and fifty lengths of which three go on a bar are proven least, where length alone is a fifth below', () => {
  const random = seeded(3)
  const all = Array.from({ length: 250 }, () => random.between(1900, 2600))
  const kinds = [{ room: 6000, cost: 6000, count: null }]
  const found = nestOnStock(all, kinds)
  const byLength = Math.ceil(all.reduce((a, b) => a + b, 0) / 6000) * 6000
  expect(byLength).toBeLessThan(0.85 * found.cost)
  expect([found.cost, found.proven]).toEqual([684000, true])
})

test('a sum of whole bars is the least that is not below', () => {
  const two = leastPayable([
    { room: 1, cost: 6000, count: null },
    { room: 1, cost: 6096, count: null },
  ])
  expect([0, 1, 6000, 6001, 6097, 12097, 18289].map(c => Math.round(two(c)))).toEqual([
    0, 6000, 6000, 6096, 12000, 12192, 24000,
  ])
  expect(leastPayable([{ room: 1, cost: 0, count: 4 }])(7)).toBe(7)
})
