/** A ball around a stretch of a curve, and the curve's total turn up to its start and end, radians. */
export interface Ball {
  readonly mx: number
  readonly my: number
  readonly mz: number
  /** No point of the curve here is further from the middle, mm. */
  readonly reach: number
  readonly turnFrom: number
  readonly turnTo: number
}

/** Neighbouring stretches of a curve in a ball: a binary tree along the chain, one stretch in each leaf. */
export interface Chain<T extends Ball> extends Ball {
  readonly stretch: T | null
  readonly parts: readonly [Chain<T>, Chain<T>] | null
}

/** The tree over a chain of at least one stretch. */
export function chainTree<T extends Ball>(
  stretches: readonly T[],
  from = 0,
  to = stretches.length,
): Chain<T> {
  if (to - from === 1) {
    const stretch = stretches[from]!
    const { mx, my, mz, reach, turnFrom, turnTo } = stretch
    return { mx, my, mz, reach, turnFrom, turnTo, stretch, parts: null }
  }
  const half = (from + to) >> 1
  const p = chainTree(stretches, from, half)
  const q = chainTree(stretches, half, to)
  const { turnFrom } = p
  const { turnTo } = q
  const apart = Math.hypot(q.mx - p.mx, q.my - p.my, q.mz - p.mz)
  const reach = Math.max((apart + p.reach + q.reach) / 2, p.reach, q.reach)
  // The least ball around two balls; one of them when it holds the other.
  const share = apart > 0 ? Math.min(Math.max((reach - p.reach) / apart, 0), 1) : 0
  const [mx, my, mz] = [
    p.mx + (q.mx - p.mx) * share,
    p.my + (q.my - p.my) * share,
    p.mz + (q.mz - p.mz) * share,
  ]
  return { mx, my, mz, reach: reach * (1 + 1e-12), turnFrom, turnTo, stretch: null, parts: [p, q] }
}

/** Distance of the two balls, mm; negative when they overlap. */
export function chainsApart(a: Ball, b: Ball): number {
  const x = a.mx - b.mx
  const y = a.my - b.my
  const z = a.mz - b.mz
  return Math.sqrt(x * x + y * y + z * z) - a.reach - b.reach
}
