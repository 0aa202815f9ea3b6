import { describe, expect, test } from 'vitest'
import { leftoversFirst } from '../../src/outputs/leftoversFirst.ts'
import type { NestKind } from '../../src/outputs/nestKind.ts'
import { nestOnStock } from '../../src/outputs/nestOnStock.ts'
import { seeded } from '../random.ts'

const bought = (room: number): NestKind => ({ room, cost: room, count: null })
const leftover = (room: number, count = 1): NestKind => ({ room, cost: 0, count })
const cut = (sizes: readonly number[], kinds: readonly NestKind[]) =>
  nestOnStock(sizes, kinds)
    .bars.map(b => [kinds[b.kind]!.room, ...b.pieces.map(p => sizes[p]!).sort((a, b) => b - a)])
    .sort((a, b) => b[0]! - a[0]!)

describe('among cuttings that open no more new stock, leftovers come first and the one that leaves least', () => {
  test('a piece that fits into either of two leftovers is cut from the shorter, whatever their order', () => {
    for (const kinds of [
      [leftover(5000), leftover(1010), bought(6000)],
      [leftover(1010), bought(6000), leftover(5000)],
    ])
      expect(cut([1000], kinds)).toEqual([[1010, 1000]])
  })
  test('a leftover is used though a new bar is opened anyway', () => {
    expect(cut([1000, 2000], [leftover(1100), bought(6000)])).toEqual([
      [6000, 2000],
      [1100, 1000],
    ])
  })
  test('the fullest fill goes into the leftover, not the first that fits', () => {
    expect(cut([900, 1050, 700, 400, 3000], [leftover(1100), bought(6000)])).toEqual([
      [6000, 3000, 1050, 900],
      [1100, 700, 400],
    ])
  })
  test('two pieces that one leftover holds do not open two', () => {
    expect(cut([500, 450], [leftover(960), leftover(520), leftover(500), bought(6000)])).toEqual([
      [960, 500, 450],
    ])
  })
  test('a leftover that no piece fits into stays whole', () => {
    expect(cut([1000], [leftover(990), bought(6000)])).toEqual([[6000, 1000]])
  })
})

const SEED = 70
test(`200 small jobs: never more new stock, and no cutting of the same new stock takes more from leftovers, seed ${SEED}`, () => {
  const random = seeded(SEED)
  let gained = 0
  for (let t = 0; t < 200; t++) {
    const kinds = [
      ...Array.from({ length: random.whole(1, 2) }, () => leftover(random.whole(10, 40))),
      bought(60),
    ]
    const sizes = Array.from({ length: random.whole(1, 5) }, () => random.whole(4, 38))
    const n = nestOnStock(sizes, kinds)
    const inLeftovers = (bars: readonly { kind: number; pieces: readonly number[] }[]) =>
      bars
        .filter(b => kinds[b.kind]!.cost === 0)
        .reduce((sum, b) => sum + b.pieces.reduce((all, p) => all + sizes[p]!, 0), 0)
    // Every way of giving each piece a leftover or one of as many new bars as were opened.
    const opened = n.bars.filter(b => kinds[b.kind]!.cost > 0).length
    const rooms = [...kinds.filter(k => k.cost === 0).map(k => k.room), ...Array(opened).fill(60)]
    let most = -1
    const place = (p: number, left: readonly number[], taken: number) => {
      if (p === sizes.length) {
        most = Math.max(most, taken)
        return
      }
      left.forEach((room, bar) => {
        if (room < sizes[p]!) return
        const next = [...left]
        next[bar] = room - sizes[p]!
        place(p + 1, next, taken + (bar < kinds.length - 1 ? sizes[p]! : 0))
      })
    }
    place(0, rooms, 0)
    expect(n.proven).toBe(true)
    expect(n.cost).toBe(60 * opened)
    expect(inLeftovers(n.bars)).toBe(most)
    gained += inLeftovers(n.bars)
  }
  expect(gained).toBeGreaterThan(0)
})

const RANDOM = 71
test(`sharing out anew loses no piece, overfills nothing and opens nothing more: 300 random cuttings, seed ${RANDOM}`, () => {
  const random = seeded(RANDOM)
  for (let t = 0; t < 300; t++) {
    const kinds = [
      ...Array.from({ length: random.whole(0, 4) }, () =>
        leftover(random.between(300, 3000), random.whole(1, 3)),
      ),
      bought(6000),
      { room: 3000, cost: 3000, count: 50 },
    ]
    // Any cutting at all, good or bad: each piece where it first fits.
    const bars: { kind: number; pieces: number[]; left: number }[] = []
    const sizes = Array.from({ length: random.whole(1, 25) }, () => random.between(150, 2900))
    sizes.forEach((size, p) => {
      const bar = bars.find(b => b.left >= size)
      if (bar) {
        bar.pieces.push(p)
        bar.left -= size
      } else {
        const kind = kinds.length - (random.next() < 0.5 ? 1 : 2)
        bars.push({ kind, pieces: [p], left: kinds[kind]!.room - size })
      }
    })
    const shared = leftoversFirst(sizes, kinds, bars)
    expect(shared.flatMap(b => b.pieces).sort((a, b) => a - b)).toEqual(sizes.map((_, i) => i))
    kinds.forEach((kind, k) => {
      const own = shared.filter(b => b.kind === k)
      expect(own.length).toBeLessThanOrEqual(
        kind.cost === 0 ? kind.count! : bars.filter(b => b.kind === k).length,
      )
      for (const b of own)
        expect(b.pieces.reduce((sum, p) => sum + sizes[p]!, 0)).toBeLessThanOrEqual(kind.room + 1e-5)
    })
  }
})
