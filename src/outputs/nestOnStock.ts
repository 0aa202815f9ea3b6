import { leastPayable } from './leastPayable.ts'
import { leftoversFirst } from './leftoversFirst.ts'
import type { NestKind } from './nestKind.ts'
import { patternBound } from './patternBound.ts'
import { roundPatterns } from './roundPatterns.ts'

export interface NestedBar {
  readonly kind: number
  /** Indices into the sizes given. */
  readonly pieces: readonly number[]
}

export interface Nesting {
  readonly bars: readonly NestedBar[]
  readonly cost: number
  /** No way of cutting can cost less than this. */
  readonly bound: number
  /** True when `cost` is the least there is: it equals the bound, or the search went through every case. */
  readonly proven: boolean
  readonly nodes: number
}

/** Search steps before the best found so far is given with its bound: a second or two, and the same on every machine. */
export const MOST_NODES = 120_000
const MOST_FILLINGS = 4_000
/** Looking so often at a size for a filling counts as a step more: it takes as long. */
const LOOKS_A_STEP = 10_000
const SLACK = 1e-9
const DIVES = 2_000
/** Before the bound over all patterns is reckoned, which takes a second for some hundred lengths. */
const FIRST_DIVES = 20
/** Quickly first; in smaller steps when that may have cost a whole bar too many. */
const ROUNDED_AT_ONCE = [0.15, 0.05] as const
/** Of the cost, where bars of several prices make up nearly every sum: a bound that near its best is not worth another second. */
const CLOSE = 5e-4
/** Bars that the search goes down through, one call a bar: the stack holds a few thousand. Dives need none. */
const MOST_DEEP = 1_500
/** Enough to go through every case of a small job before any dive. */
const SHORT_LOOK = 2_000
/** A little above 1, a long piece is worth more than two of half its length: it is harder to place later. */
const POWER = 1.03

/** No way was found to cut all pieces from a limited stock. */
export class TooLittleStock extends Error {}

/**
 * Pieces (sizes with their kerf) on stock so that what is opened costs least: branch and bound over "bin completions".
 * The largest piece left goes into one of the kinds, together with every fill that leaves no room for a further
 * piece; a branch ends when its cost plus the length bound of what is left cannot be better. Leaving out fills with
 * room to spare loses nothing: a piece moved into that room only empties another bar.
 * Of all cuttings that cost the same it takes one that uses leftovers first ({@link leftoversFirst}).
 * Bounds: total length, and Martello and Toth's L2 (from memory: "Lower bounds and reduction procedures for the
 * bin packing problem", 1990) when only one kind is bought and there is nothing free; when these do not settle it, the
 * cheapest fractional cutting (`patternBound`), whose patterns are also rounded to whole bars. A bound is raised to what
 * whole bars can cost.
 *
 * @throws RangeError when a piece fits into no kind.
 * @throws TooLittleStock when the pieces do not fit into a limited stock.
 */
export function nestOnStock(
  sizes: readonly number[],
  kinds: readonly NestKind[],
  mostNodes = MOST_NODES,
): Nesting {
  const widest = Math.max(0, ...kinds.map(k => k.room))
  sizes.forEach((s, i) => {
    if (!(s > 0)) throw new RangeError(`piece ${i + 1}: found a length of ${s}, wanted more than 0`)
    if (s > widest + SLACK) throw new RangeError(`piece ${i + 1}: found ${s}, wanted at most ${widest}`)
  })
  const classes = [...new Set(sizes)].sort((a, b) => b - a)
  const members = classes.map(c => sizes.flatMap((s, i) => (s === c ? [i] : [])))
  const left = members.map(m => m.length)
  const stock = kinds.map(k => k.count ?? Infinity)
  const bought = kinds.filter(k => k.count === null)
  /** Least cost of room that can be bought, and the only kind there is, when there is one. */
  const cheapest = bought.length > 0 ? Math.min(...bought.map(k => k.cost / k.room)) : Infinity
  const only = bought.length === 1 && kinds.every(k => k.cost === 0 || k.count === null) ? bought[0]! : null
  const total = sizes.reduce((a, b) => a + b, 0)

  const costOf = (length: number): number => {
    let free = 0
    kinds.forEach((k, i) => {
      if (k.count !== null && k.cost === 0) free += stock[i]! * k.room
    })
    const short = length - free
    if (short <= SLACK) return 0
    if (only) return Math.ceil(short / only.room - SLACK) * only.cost
    const limited = kinds.flatMap(k => (k.count !== null && k.cost > 0 ? [k.cost / k.room] : []))
    const rate = Math.min(cheapest, ...limited)
    return Number.isFinite(rate) ? short * rate : 0
  }
  const payable = leastPayable(kinds)
  let bound = payable(
    Math.max(costOf(total), only && kinds.length === 1 ? halvesBound(sizes, only.room) * only.cost : 0),
  )

  let best: { cost: number; bars: { kind: number; fill: number[] }[] } | null = null
  let nodes = 0
  let budget = mostNodes
  let wentThrough = true
  const seen = new Map<string, number>()
  const path: { kind: number; fill: number[] }[] = []

  /** Every kind that the largest piece left may go into, with every full fill; free stock first, then the fullest. */
  const optionsAt = (head: number): { kind: number; fill: number[]; used: number }[] => {
    const options: { kind: number; fill: number[]; used: number }[] = []
    kinds.forEach((kind, k) => {
      if (stock[k]! <= 0 || classes[head]! > kind.room + SLACK) return
      if (
        kinds.findIndex((o, j) => j < k && o.room === kind.room && o.cost === kind.cost && stock[j]! > 0) >= 0
      )
        return
      for (const { fill, used } of fillings(classes, left, head, kind.room, () => {
        wentThrough = false
      }))
        options.push({ kind: k, fill, used })
    })
    nodes += Math.floor((options.length * classes.length) / LOOKS_A_STEP)
    const priceOf = (o: (typeof options)[number]) =>
      kinds[o.kind]!.cost === 0 ? -1 : kinds[o.kind]!.cost / o.used
    options.sort((a, b) => priceOf(a) - priceOf(b) || b.used - a.used)
    return options
  }
  const take = (fill: readonly number[], kind: number, sign: 1 | -1) => {
    for (const c of fill) left[c]! -= sign
    stock[kind]! -= sign
  }

  /**
   * One way down along the fills worth most, where a piece is worth more the more room the bars it ended in have
   * wasted so far (sequential value correction). Keeps what is better.
   */
  const worth = classes.map(c => c ** POWER)
  const dive = (next: () => number) => {
    let cost = 0
    const taken: { kind: number; fill: number[]; used: number }[] = []
    for (let head = left.findIndex(n => n > 0); head >= 0; head = left.findIndex(n => n > 0)) {
      nodes++
      let choice: { kind: number; fill: number[]; used: number } | null = null
      let most = -Infinity
      for (const o of optionsAt(head)) {
        const free = kinds[o.kind]!.cost === 0
        const value = o.fill.reduce((sum, c) => sum + worth[c]!, 0) / (free ? 1e-6 : kinds[o.kind]!.cost)
        if (value > most) {
          most = value
          choice = o
        }
      }
      if (!choice) break
      take(choice.fill, choice.kind, 1)
      taken.push(choice)
      cost += kinds[choice.kind]!.cost
    }
    if (left.every(n => n === 0) && (!best || cost < best.cost - SLACK))
      best = { cost, bars: taken.map(({ kind, fill }) => ({ kind, fill })) }
    for (const { kind, fill, used } of taken) {
      take(fill, kind, -1)
      const { room } = kinds[kind]!
      const blame = room / (room - (room - used) * next())
      for (const c of fill) {
        const share = 0.2 + 0.6 * next()
        worth[c] = worth[c]! * (1 - share) + share * blame * classes[c]! ** POWER
      }
    }
  }

  /** Depth first, nearest to full first; false when the node budget is spent. `stray` limits second choices. */
  const search = (cost: number, length: number, stray: number): boolean => {
    if (best && best.cost <= bound + SLACK) return true
    const head = left.findIndex(n => n > 0)
    if (head < 0) {
      if (!best || cost < best.cost - SLACK)
        best = { cost, bars: path.map(p => ({ ...p, fill: [...p.fill] })) }
      return true
    }
    if (best && cost + costOf(length) >= best.cost - SLACK) return true
    if (++nodes > budget || path.length > MOST_DEEP) return false
    const state = `${stray}|${left.join()}|${stock.join()}`
    const before = seen.get(state)
    if (before !== undefined && before <= cost + SLACK) return true
    if (seen.size < 500_000) seen.set(state, cost)

    const options = optionsAt(head)
    for (const [rank, { kind, fill, used }] of options.entries()) {
      const spent = rank === 0 ? 0 : 1
      if (spent > stray) break
      take(fill, kind, 1)
      path.push({ kind, fill })
      const goOn =
        best && cost + kinds[kind]!.cost + costOf(length - used) >= best.cost - SLACK
          ? true
          : search(cost + kinds[kind]!.cost, length - used, stray - spent)
      path.pop()
      take(fill, kind, -1)
      if (!goOn) return false
    }
    return true
  }

  // The plain way down and a first look around it, every case if they are few, some dives, the bound over all patterns
  // and what it rounds to, more dives, then every case as far as the budget goes.
  const done = () => best !== null && (best as { cost: number }).cost <= bound + SLACK
  let finished = false
  for (const [stray, steps] of [
    [0, mostNodes],
    [1, 10 * SHORT_LOOK],
    [Infinity, SHORT_LOOK],
  ] as const) {
    if (done()) break
    budget = Math.min(mostNodes, nodes + steps)
    seen.clear()
    finished = search(0, total, stray) && stray === Infinity
  }
  budget = mostNodes
  const next = repeatable()
  for (let i = 0; i < FIRST_DIVES && !done() && !finished && nodes < mostNodes / 4; i++) dive(next)
  if (!done() && !finished) {
    const counts = members.map(m => m.length)
    const isTold = (least: number, cost: number) =>
      (bought.length > 1 && cost - least < CLOSE * cost) ||
      payable(least) >= Math.min(payable(cost), best?.cost ?? Infinity) - SLACK
    bound = Math.max(bound, payable(patternBound(classes, counts, kinds, isTold)?.bound ?? 0))
    const oneBar = Math.min(...kinds.flatMap(k => (k.cost > 0 ? [k.cost] : [])))
    const over = () => (best ? (best as { cost: number }).cost : Infinity) - bound
    for (const share of ROUNDED_AT_ONCE) {
      if (done() || (share < ROUNDED_AT_ONCE[0] && over() < oneBar - SLACK)) break
      const rounded = roundPatterns(classes, counts, kinds, share)
      if (!rounded) break
      const bars = rounded.map(({ kind, fill }) => ({ kind, fill: [...fill].sort((a, b) => a - b) }))
      const cost = bars.reduce((sum, b) => sum + kinds[b.kind]!.cost, 0)
      if (cost < over() + bound - SLACK) best = { cost, bars }
    }
  }
  for (let i = 0; i < DIVES && !done() && !finished && nodes < mostNodes / 2; i++) dive(next)
  if (!done() && !finished) {
    seen.clear()
    finished = search(0, total, Infinity)
  }
  const found = best as { cost: number; bars: { kind: number; fill: number[] }[] } | null
  if (!found)
    throw new TooLittleStock(`found ${sizes.length} pieces, wanted no more than the limited stock holds`)
  const handed = members.map(() => 0)
  const cut = found.bars.map(({ kind, fill }) => ({
    kind,
    pieces: fill.map(c => members[c]![handed[c]!++]!),
  }))
  const bars = leftoversFirst(sizes, kinds, cut)
  // No more than was found; less where a bar of a cutting that is not proven has come empty.
  const cost = Math.min(
    found.cost,
    bars.reduce((sum, b) => sum + kinds[b.kind]!.cost, 0),
  )
  const settled = finished && wentThrough
  return {
    bars,
    cost,
    bound: settled ? cost : bound,
    proven: cost <= bound + SLACK || settled,
    nodes: Math.min(nodes, mostNodes),
  }
}

/** Fills with the class `head` in them that leave no room for any other piece left, at most a few thousand. */
function fillings(
  classes: readonly number[],
  left: readonly number[],
  head: number,
  room: number,
  cutShort: () => void,
): { fill: number[]; used: number }[] {
  const found: { fill: number[]; used: number }[] = []
  const taken = classes.map(() => 0)
  taken[head] = 1
  const fill = [head]
  let smallest = classes.length - 1
  while (smallest > head && left[smallest] === 0) smallest--
  let stopped = false
  const extend = (from: number, used: number) => {
    if (stopped) return
    const gap = room - used
    let any = false
    for (let c = from; c < classes.length; c++) {
      if (classes[c]! > gap + SLACK || left[c]! - taken[c]! <= 0) continue
      any = true
      taken[c]!++
      fill.push(c)
      extend(c, used + classes[c]!)
      fill.pop()
      taken[c]!--
      if (stopped) return
    }
    if (any) return
    // Larger classes passed over may still fit: then this fill is not a full one.
    for (let c = head; c < from; c++) if (classes[c]! <= gap + SLACK && left[c]! - taken[c]! > 0) return
    found.push({ fill: [...fill], used })
    if (found.length >= MOST_FILLINGS) {
      stopped = true
      cutShort()
    }
  }
  extend(head, classes[head]!)
  return found
}

/** Martello and Toth's L2: bars that pieces over half need alone, and what the rest then still wants. */
function halvesBound(sizes: readonly number[], room: number): number {
  let most = 0
  for (const least of new Set(sizes.filter(s => s <= room / 2).concat(0))) {
    const big = sizes.filter(s => s > room - least)
    const middle = sizes.filter(s => s <= room - least && s > room / 2)
    const small = sizes.filter(s => s <= room / 2 && s >= least)
    const spare = middle.length * room - middle.reduce((a, b) => a + b, 0)
    const over = small.reduce((a, b) => a + b, 0) - spare
    most = Math.max(most, big.length + middle.length + Math.max(0, Math.ceil(over / room - SLACK)))
  }
  return most
}

/** The same row of numbers in [0, 1) every time: the same pieces give the same cut list. Lehmer's generator with Park and Miller's later multiplier, from memory. */
function repeatable(): () => number {
  let state = 1
  return () => {
    state = (state * 48271) % 2147483647
    return state / 2147483647
  }
}
