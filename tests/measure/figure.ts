/** One line of the bench table. Values are ratios in one run where they can be; `aim` is what we want, not a test. */
export interface Figure {
  readonly name: string
  readonly value: string
  readonly aim?: string
}

/**
 * Milliseconds a call takes: the best of many short rounds, each long enough for the clock. What else the machine does
 * only ever adds to a round, and leaves some of many alone.
 */
export function perCall(work: () => void): number {
  for (let i = 0; i < 200; i++) work()
  let best = Number.POSITIVE_INFINITY
  const end = performance.now() + 600
  while (performance.now() < end) {
    let calls = 0
    const start = performance.now()
    while (performance.now() - start < 3) {
      for (let i = 0; i < 50; i++) work()
      calls += 50
    }
    best = Math.min(best, (performance.now() - start) / calls)
  }
  return best
}
