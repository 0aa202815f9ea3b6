import { type Fill, knapsacks } from './fullestFill.ts'
import type { NestKind } from './nestKind.ts'

export interface Pattern {
  readonly kind: number
  /** Indices of sizes, one for each piece. */
  readonly fill: readonly number[]
  /** How many bars are cut like that; in fractions. */
  readonly amount: number
}
export interface PatternBound {
  /** What no way of cutting can cost less than. */
  readonly bound: number
  /** The cheapest fractional cutting that was found. */
  readonly patterns: readonly Pattern[]
}

/** Looks and multiplications: some seconds. */
const MOST_WORK = 400_000_000
const EPS = 1e-9
/** Better by less than this share is not worth another pattern. */
const GAIN = 1e-7
/** How much of the best prices so far is in the next ones: prices by themselves leap to and fro. */
const STEADY = 0.7

/**
 * The least cost when bars may be cut in fractions: the linear programme over all patterns (ways of filling a bar),
 * to which patterns are added as the prices of the pieces ask for them (Gilmore and Gomory, "A linear programming
 * approach to the cutting-stock problem", Operations Research 9, 1961). What comes back is a bound at every stage:
 * prices are scaled until no pattern is worth more than its bar (Farley, "A note on bounding a class of linear
 * programming problems", Operations Research 38, 1990). Both from memory.
 *
 * @param sizes different sizes with their kerf, > 0.
 * @param counts how many of each, ≥ 1.
 * @param enough told the bound and the cost of the fractional cutting so far; true when nobody needs a better bound.
 * @returns null when every kind is limited: then there may be no answer at all, which is not for prices to tell.
 */
export function patternBound(
  sizes: readonly number[],
  counts: readonly number[],
  kinds: readonly NestKind[],
  enough: (bound: number, cost: number) => boolean,
  mostWork = MOST_WORK,
): PatternBound | null {
  const endless = kinds.filter(k => k.count === null)
  const limited = kinds.filter(k => k.count !== null)
  const n = sizes.length
  if (endless.length === 0 || n === 0) return null
  const widest = endless.reduce((a, b) => (b.room > a.room ? b : a))
  if (sizes.some(s => s > widest.room + EPS)) return null
  const rows = n + limited.length

  // The basis to begin with: each size by itself on the widest bar, and no limited stock used up.
  const inverse = Array.from({ length: rows }, () => new Float64Array(rows))
  const amounts = new Float64Array(rows)
  const costs = new Float64Array(rows)
  const cut: ({ readonly kind: number; readonly fill: readonly number[] } | null)[] = Array(rows).fill(null)
  for (let i = 0; i < n; i++) {
    const fit = Math.min(counts[i]!, Math.floor(widest.room / sizes[i]! + EPS))
    inverse[i]![i] = 1 / fit
    amounts[i] = counts[i]! / fit
    costs[i] = widest.cost
    cut[i] = { kind: kinds.indexOf(widest), fill: Array<number>(fit).fill(i) }
  }
  limited.forEach((k, j) => {
    inverse[n + j]![n + j] = 1
    amounts[n + j] = k.count!
  })

  let best = 0
  // Prices by length give the bound by length, and from there on the best prices so far keep the next ones steady.
  const perMm = Math.min(...endless.map(k => k.cost / k.room))
  let steady: readonly number[] = sizes.map(size => size * perMm)
  let share = STEADY
  let work = 0
  const prices = new Float64Array(rows)
  const column = new Float64Array(rows)
  const moved = new Float64Array(rows)
  while (work < mostWork) {
    prices.fill(0)
    let spent = 0
    for (let r = 0; r < rows; r++) {
      const cost = costs[r]!
      spent += cost * amounts[r]!
      if (cost !== 0) for (let c = 0; c < rows; c++) prices[c]! += cost * inverse[r]![c]!
    }
    const worth = steady.map((w, i) => share * w + (1 - share) * Math.max(0, prices[i]!))
    const fillOf = knapsacks(sizes, counts, worth)
    const fills = kinds.map(k => fillOf(k.room))
    work += fills.reduce((sum, f) => sum + f.steps, rows * rows)
    const bound = boundOf(worth, counts, kinds, fills)
    if (bound > best) {
      best = bound
      steady = worth
    }
    if (enough(best, spent)) break

    // What enters: a pattern worth more than its bar, less of a size than was cut, or stock that is left over.
    let least = -GAIN * widest.cost
    let enters: { readonly pattern: { kind: number; fill: readonly number[] } | null; row: number } | null =
      null
    let nth = 0
    kinds.forEach((k, i) => {
      const row = k.count === null ? -1 : n + nth++
      const { fill } = fills[i]!
      const value = fill.reduce((sum, c) => sum + prices[c]!, row < 0 ? 0 : prices[row]!)
      if (k.cost - value >= least) return
      least = k.cost - value
      enters = { pattern: { kind: i, fill }, row }
    })
    for (let row = 0; row < rows; row++) {
      const reduced = row < n ? prices[row]! : -prices[row]!
      if (reduced >= least) continue
      least = reduced
      enters = { pattern: null, row }
    }
    if (!enters) {
      if (share === 0) break
      share = 0
      continue
    }
    share = STEADY
    const { pattern, row } = enters as { pattern: (typeof cut)[number]; row: number }
    column.fill(0)
    if (row >= 0) column[row] = pattern === null && row < n ? -1 : 1
    for (const c of pattern?.fill ?? []) column[c]! += 1
    const cost = pattern === null ? 0 : kinds[pattern.kind]!.cost

    let leaves = -1
    let ratio = Number.POSITIVE_INFINITY
    for (let r = 0; r < rows; r++) {
      let sum = 0
      const line = inverse[r]!
      for (let c = 0; c < rows; c++) if (column[c] !== 0) sum += line[c]! * column[c]!
      moved[r] = sum
      if (sum > EPS && amounts[r]! / sum < ratio - EPS) {
        ratio = amounts[r]! / sum
        leaves = r
      }
    }
    if (leaves < 0) break
    const pivot = inverse[leaves]!
    const by = moved[leaves]!
    for (let c = 0; c < rows; c++) pivot[c]! /= by
    amounts[leaves] = ratio
    costs[leaves] = cost
    cut[leaves] = pattern
    for (let r = 0; r < rows; r++) {
      const times = moved[r]!
      if (r === leaves || times === 0) continue
      const line = inverse[r]!
      for (let c = 0; c < rows; c++) line[c]! -= times * pivot[c]!
      amounts[r] = Math.max(0, amounts[r]! - times * ratio)
    }
  }
  const patterns = cut.flatMap((c, r) => (c && amounts[r]! > EPS ? [{ ...c, amount: amounts[r]! }] : []))
  return { bound: best, patterns }
}

/** Prices scaled until no pattern is worth more than its bar, and what they then say that all pieces cost at least. */
function boundOf(
  worth: readonly number[],
  counts: readonly number[],
  kinds: readonly NestKind[],
  fills: readonly Fill[],
): number {
  const scale = kinds.reduce(
    (least, k, i) =>
      k.count === null && fills[i]!.most > 0 ? Math.min(least, k.cost / fills[i]!.most) : least,
    1,
  )
  return kinds.reduce(
    (sum, k, i) => sum + (k.count === null ? 0 : k.count * Math.min(0, k.cost - scale * fills[i]!.most)),
    worth.reduce((sum, w, i) => sum + scale * w * counts[i]!, 0),
  )
}
