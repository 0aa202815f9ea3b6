/** Of one search; past it a looser bound stands in, which stays a bound. */
const MOST_STEPS = 200_000
const EPS = 1e-9

export interface Fill {
  /** Indices of sizes, one for each piece. */
  readonly fill: readonly number[]
  readonly value: number
  /** No fill is worth more; above `value` only when the search was cut short. */
  readonly most: number
  readonly steps: number
}

/** Fills worth most, at these prices, for any room: depth first, the most worth per length first. */
export function knapsacks(
  sizes: readonly number[],
  counts: readonly number[],
  worth: readonly number[],
): (room: number) => Fill {
  const order = sizes.map((_, i) => i).filter(i => worth[i]! > EPS)
  order.sort((a, b) => worth[b]! / sizes[b]! - worth[a]! / sizes[a]!)
  const s = order.map(i => sizes[i]!)
  const w = order.map(i => worth[i]!)
  const have = order.map(i => counts[i]!)
  // Of each place in the order and all behind it: the shortest, and what is worth most.
  const shortest = [...s]
  const dearest = [...w]
  for (let k = s.length - 2; k >= 0; k--) {
    shortest[k] = Math.min(s[k]!, shortest[k + 1]!)
    dearest[k] = Math.max(w[k]!, dearest[k + 1]!)
  }
  /** More than this the room cannot be worth with pieces from that place on. */
  const ceiling = (k: number, left: number) =>
    Math.min((left * w[k]!) / s[k]!, Math.floor(left / shortest[k]! + EPS) * dearest[k]!)
  return room => {
    let value = 0
    let fill: number[] = []
    let steps = 0
    const taken: number[] = []
    const search = (from: number, left: number, so: number, ofFirst: number): void => {
      if (so > value) {
        value = so
        fill = [...taken]
      }
      for (let k = from; k < s.length; k++) {
        if (so + ceiling(k, left) <= value + EPS || ++steps > MOST_STEPS) return
        const used = k === from ? ofFirst : 0
        if (s[k]! > left + EPS || used >= have[k]!) continue
        taken.push(k)
        search(k, left - s[k]!, so + w[k]!, used + 1)
        taken.pop()
      }
    }
    search(0, room, 0, 0)
    const most = steps > MOST_STEPS ? Math.max(value, ceiling(0, room)) : value
    return { fill: fill.map(k => order[k]!), value, most, steps }
  }
}
