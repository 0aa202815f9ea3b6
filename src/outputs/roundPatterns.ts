import type { NestKind } from './nestKind.ts'
import { patternBound } from './patternBound.ts'

export interface FilledBar {
  readonly kind: number
  /** Indices of sizes, one for each piece. */
  readonly fill: readonly number[]
}

/** A pattern that is cut this often in fractions is cut once whole. */
const NEARLY_WHOLE = 0.85
/** Of the fractional cost: a cutting that near the cheapest rounds as well. */
const NEAR = 0.002
/** For each round: as near as it comes by then will do. */
const MOST_WORK = 40_000_000

/**
 * Whole bars out of the cheapest fractional cutting: what is cut (nearly) whole is taken, and what is then left is
 * reckoned anew, until nothing is. No promise how good it is; the bound tells.
 * @param atOnce at least this share of the bars is settled in each round, however fractional they are.
 * @returns null when the limited stock ran out on the way.
 */
export function roundPatterns(
  sizes: readonly number[],
  counts: readonly number[],
  kinds: readonly NestKind[],
  atOnce: number,
): readonly FilledBar[] | null {
  const left = [...counts]
  const stock = kinds.map(k => k.count)
  const bars: FilledBar[] = []
  /** Takes the fill, and into what room it leaves the longest pieces left that go in; false when it is not to be had. */
  const take = (kind: number, fill: readonly number[]): boolean => {
    if (stock[kind] === 0) return false
    const taken: number[] = []
    let room = kinds[kind]!.room
    const add = (c: number) => {
      left[c]!--
      taken.push(c)
      room -= sizes[c]!
    }
    for (const c of fill) if (left[c]! > 0) add(c)
    if (taken.length < fill.length) {
      for (const c of taken) left[c]!++
      return false
    }
    for (const c of byLength) while (left[c]! > 0 && sizes[c]! <= room + 1e-9) add(c)
    if (stock[kind] !== null) stock[kind]!--
    bars.push({ kind, fill: taken })
    return true
  }
  const byLength = sizes.map((_, i) => i).sort((a, b) => sizes[b]! - sizes[a]!)
  while (left.some(n => n > 0)) {
    const some = left.flatMap((n, i) => (n > 0 ? [i] : []))
    const found = patternBound(
      some.map(i => sizes[i]!),
      some.map(i => left[i]!),
      kinds.map((k, i) => ({ ...k, count: stock[i]! })),
      (bound, cost) => cost <= bound * (1 + NEAR),
      MOST_WORK,
    )
    if (!found) return null
    const patterns = [...found.patterns].sort((a, b) => b.amount - a.amount)
    const wanted = Math.ceil(patterns.reduce((sum, p) => sum + p.amount, 0) * atOnce)
    let settled = 0
    for (const { kind, fill, amount } of patterns) {
      if (amount < NEARLY_WHOLE && settled >= wanted) break
      const whole = fill.map(c => some[c]!)
      for (let n = Math.max(1, Math.floor(amount + 1 - NEARLY_WHOLE)); n > 0 && take(kind, whole); n--)
        settled++
    }
    if (settled === 0) return null
  }
  return bars
}
