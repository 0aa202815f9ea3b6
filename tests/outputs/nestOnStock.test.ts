import { describe, expect, test } from 'vitest'
import type { NestKind } from '../../src/outputs/nestKind.ts'
import { type Nesting, nestOnStock } from '../../src/outputs/nestOnStock.ts'
import { seeded } from '../random.ts'
import { triplets, U120 } from './falkenauer.ts'

/** Every piece once, no bar overfull, no more remnants than there are, and the cost is the sum of what is opened. */
function expectLegal(n: Nesting, sizes: readonly number[], kinds: readonly NestKind[]) {
  expect(n.bars.flatMap(b => b.pieces).sort((a, b) => a - b)).toEqual(sizes.map((_, i) => i))
  for (const b of n.bars)
    expect(b.pieces.reduce((s, i) => s + sizes[i]!, 0)).toBeLessThanOrEqual(kinds[b.kind]!.room + 1e-6)
  kinds.forEach((k, i) => {
    if (k.count !== null) expect(n.bars.filter(b => b.kind === i).length).toBeLessThanOrEqual(k.count)
  })
  expect(n.bars.reduce((s, b) => s + kinds[b.kind]!.cost, 0)).toBeCloseTo(n.cost, 6)
  expect(n.bound).toBeLessThanOrEqual(n.cost + 1e-9)
  if (n.proven) expect(n.cost - n.bound).toBeLessThan(1e-6)
}

describe('published bin-packing instances: u120 of Falkenauer (1996), OR-Library', () => {
  for (const u of U120)
    test(`${u.name}: ${u.best} bars, proven least`, () => {
      const bins: number[] = []
      for (const s of [...u.sizes].sort((a, b) => b - a)) {
        const i = bins.findIndex(b => b + s <= 150)
        if (i < 0) bins.push(s)
        else bins[i] = bins[i]! + s
      }
      expect([u.sizes.length, bins.length]).toEqual([120, u.firstFitDecreasing])
      const kinds = [{ room: 150, cost: 1, count: null }]
      const n = nestOnStock(u.sizes, kinds)
      expectLegal(n, u.sizes, kinds)
      expect([n.cost, n.proven]).toEqual([u.best, true])
    })
})

describe('triplets: generated after the published class, optimum known by construction, not the published files', () => {
  for (const seed of [1, 4])
    test(`60 pieces in 20 full bars, seed ${seed}`, () => {
      const kinds = [{ room: 1000, cost: 1, count: null }]
      const sizes = triplets(60, seeded(seed).next)
      const n = nestOnStock(sizes, kinds)
      expectLegal(n, sizes, kinds)
      expect([n.cost, n.proven]).toEqual([20, true])
    })
  test('120 pieces with a small budget: legal, not said to be proven, and the bound is the true optimum 40', () => {
    const kinds = [{ room: 1000, cost: 1, count: null }]
    const sizes = triplets(120, seeded(1).next)
    const n = nestOnStock(sizes, kinds, 3000)
    expectLegal(n, sizes, kinds)
    expect(n.bound).toBe(40)
    expect(n.cost).toBeLessThanOrEqual(43)
    expect(n.proven).toBe(n.cost === 40)
  })
})

const SEED = 12
test(`300 small jobs with remnants and two stock lengths cost what trying every way costs, seed ${SEED}`, () => {
  const random = seeded(SEED)
  for (let t = 0; t < 300; t++) {
    const sizes = Array.from({ length: random.whole(1, 7) }, () => random.whole(5, 60))
    const kinds: NestKind[] = [
      { room: random.whole(60, 100), cost: random.whole(60, 100), count: null },
      ...(random.next() < 0.5
        ? [{ room: random.whole(40, 130), cost: random.whole(40, 130), count: null }]
        : []),
      ...Array.from({ length: random.whole(0, 2) }, () => ({
        room: random.whole(20, 70),
        cost: 0,
        count: random.whole(1, 2),
      })),
    ]
    const n = nestOnStock(sizes, kinds)
    expectLegal(n, sizes, kinds)
    expect(n.proven).toBe(true)
    expect(n.cost).toBeCloseTo(everyWay(sizes, kinds), 9)
  }
})

/** Oracle: each piece into every open bar or a new one of each kind. */
function everyWay(sizes: readonly number[], kinds: readonly NestKind[]): number {
  let best = Infinity
  const stock = kinds.map(k => k.count ?? Infinity)
  const open: number[] = []
  const place = (i: number, cost: number) => {
    if (cost >= best) return
    if (i === sizes.length) {
      best = cost
      return
    }
    const s = sizes[i]!
    for (let b = 0; b < open.length; b++) {
      if (open[b]! < s) continue
      open[b] = open[b]! - s
      place(i + 1, cost)
      open[b] = open[b]! + s
    }
    kinds.forEach((k, j) => {
      if (stock[j]! <= 0 || k.room < s) return
      stock[j]!--
      open.push(k.room - s)
      place(i + 1, cost + k.cost)
      open.pop()
      stock[j]!++
    })
  }
  place(0, 0)
  return best
}

test('a piece longer than every stock length and a limited stock that is too small are refused', () => {
  expect(() => nestOnStock([80], [{ room: 70, cost: 1, count: null }])).toThrow(
    /piece 1: found 80, wanted at most 70/,
  )
  expect(() => nestOnStock([60, 60], [{ room: 70, cost: 0, count: 1 }])).toThrow(/limited stock/)
})
