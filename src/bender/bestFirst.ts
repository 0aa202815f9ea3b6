import type { Lead, OrderedBend } from '../solve/bendOrder.ts'
import type { BenchSetup, BenchState } from './housing.ts'
import { slidesOn } from './slidesOn.ts'
import type { StepValues } from './stepValue.ts'

export interface Scoring {
  readonly start: number
  /** Score after one more step, never above the score before it; `step` finds that step's clearance. */
  readonly next: (score: number, state: BenchState, step: () => number) => number
  readonly rank: (score: number) => number
  readonly worthwhile: (score: number) => boolean
}

/** A step's value is that of the bends made with it and of whether the tube slides on to it: two figures a state. */
const known = new WeakMap<StepValues, Float64Array>()

/**
 * A complete order of highest rank, or null when none is worthwhile. Ties go to the state with more bends made, then to
 * the one that was reached by the lower bend with end A leading.
 */
export function bestFirst(
  setup: BenchSetup,
  first: Lead,
  steps: StepValues,
  tell: (done: number) => void,
  scoring: Scoring,
): { order: OrderedBend[]; score: number } | null {
  const count = setup.wanted.length
  const slots = count * 2
  const ofSlot = (s: number): OrderedBend => ({ bend: s >> 1, lead: s % 2 === 0 ? 'A' : 'B' })
  const size = 2 ** count * slots
  const best = new Float64Array(size).fill(Number.NEGATIVE_INFINITY)
  const came = new Int32Array(size).fill(-1)
  const closed = new Uint8Array(size)
  const values = known.get(steps) ?? new Float64Array(2 * size).fill(Number.NaN)
  known.set(steps, values)
  /** Open states by rank and count of bends made: the last of the best list is next. */
  const open = new Map<number, number[][]>()
  const ranks: number[] = []
  const put = (state: number, score: number, made: number) => {
    const rank = scoring.rank(score)
    let lists = open.get(rank)
    if (lists === undefined) {
      lists = Array.from({ length: count + 1 }, () => [])
      open.set(rank, lists)
      ranks.push(rank)
      ranks.sort((x, y) => x - y)
    }
    lists[made]!.push(state)
  }
  const take = (): { state: number; made: number } | null => {
    for (let rank = ranks.at(-1); rank !== undefined; rank = ranks.at(-1)) {
      const lists = open.get(rank)!
      for (let made = count; made >= 1; made--) {
        const state = lists[made]!.pop()
        if (state !== undefined) return { state, made }
      }
      open.delete(rank)
      ranks.pop()
    }
    return null
  }
  const expand = (from: number, made: number) => {
    const mask = from < 0 ? 0 : Math.floor(from / slots)
    const before = from < 0 ? null : ofSlot(from % slots)
    const so = from < 0 ? scoring.start : best[from]!
    for (let to = slots - 1; to >= 0; to--) {
      const { bend, lead } = ofSlot(to)
      if (mask & (1 << bend) || (before === null && lead !== first)) continue
      const at = (mask | (1 << bend)) * slots + to
      if (closed[at] || so <= best[at]!) continue
      const state: BenchState = { bend, lead, before, made: b => (mask & (1 << b)) !== 0 }
      const score = scoring.next(so, state, () => {
        const i = 2 * at + (slidesOn(setup, state) ? 1 : 0)
        if (Number.isNaN(values[i]!)) values[i] = steps.of(state)
        return values[i]!
      })
      if (!scoring.worthwhile(score) || score <= best[at]!) continue
      best[at] = score
      came[at] = from
      put(at, score, made + 1)
    }
  }
  expand(-1, 0)
  let deepest = 0
  for (let next = take(); next !== null; next = take()) {
    const { state, made } = next
    if (closed[state]) continue
    closed[state] = 1
    deepest = Math.max(deepest, made)
    tell(deepest / (count + 1))
    if (made < count) {
      expand(state, made)
      continue
    }
    const order: OrderedBend[] = []
    for (let s = state; s >= 0; s = came[s]!) order.unshift(ofSlot(s % slots))
    return { order, score: best[state]! }
  }
  return null
}
