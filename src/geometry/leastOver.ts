const SHARE = (Math.sqrt(5) - 1) / 2
const STEPS = 50

/** Where between `from` and `to` a function with one dip is least, by golden sections; an end where it has none. */
export function leastOver(f: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to]
  let [x, y] = [high - SHARE * (high - low), low + SHARE * (high - low)]
  let [fx, fy] = [f(x), f(y)]
  for (let k = 0; k < STEPS && high - low > 1e-12; k++) {
    if (fx <= fy) {
      high = y
      y = x
      fy = fx
      x = high - SHARE * (high - low)
      fx = f(x)
    } else {
      low = x
      x = y
      fx = fy
      y = low + SHARE * (high - low)
      fy = f(y)
    }
  }
  const middle = (low + high) / 2
  return [from, to].reduce((best, end) => (f(end) < f(best) ? end : best), middle)
}
