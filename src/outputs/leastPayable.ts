import type { NestKind } from './nestKind.ts'

/** With more different prices than this a cost is left as it is: they make up nearly every sum. */
const MOST_PRICES = 3
/** Sums looked at for one cost: prices far below the others would make up more of them than anyone waits for. */
const MOST_SUMS = 1_000_000
const SLACK = 1e-9
/** Of the cost: a bound that is this little over a sum is that sum, for it was reckoned with rounding. */
const ROUNDING = 1e-8

/**
 * The least sum of whole bars' prices that is not below a cost: nobody buys three quarters of a bar. How many there are
 * of limited stock is left out of it, which can only make the sum smaller.
 */
export function leastPayable(kinds: readonly NestKind[]): (cost: number) => number {
  const prices = [...new Set(kinds.map(k => k.cost).filter(c => c > 0))].sort((a, b) => b - a)
  if (prices.length === 0 || prices.length > MOST_PRICES) return cost => cost
  const least = (cost: number, from: number): number => {
    if (cost <= 0) return 0
    const price = prices[from]!
    const most = Math.ceil(cost / price)
    if (from === prices.length - 1) return most * price
    let sum = most * price
    for (let n = 0; n < most; n++) sum = Math.min(sum, n * price + least(cost - n * price, from + 1))
    return sum
  }
  const sums = (cost: number) => prices.slice(0, -1).reduce((n, price) => n * (1 + cost / price), 1)
  return cost =>
    sums(cost) > MOST_SUMS ? cost : Math.max(cost - SLACK, least(cost - SLACK - Math.abs(cost) * ROUNDING, 0))
}
