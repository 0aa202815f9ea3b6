import { knapsacks } from './fullestFill.ts'
import type { NestKind } from './nestKind.ts'

/** Of all sharing out together: a second or so; what is found by then is kept. */
const MOST_WORK = 5_000_000

/** Of going through every way, which small jobs need few of. */
const MOST_STEPS = 50_000

interface Bar {
  readonly kind: number
  /** Indices into the sizes. */
  readonly pieces: readonly number[]
}

/** Rounding of sums of lengths, mm; a gain below it is none. */
const SLACK = 1e-6

/**
 * Of cuttings that open no more new stock, one that takes more from leftovers (kinds that cost nothing): as long as it
 * gains, what lies in a leftover and in one new bar is shared out anew, the fullest fill into the leftover. What goes back is
 * shorter than what comes out, so that it fits, and no bar is ever added. A small job is gone through in every way. Then pieces of two leftovers that fit into one
 * are put there, and each filling goes into the shortest leftover that is free and holds it.
 *
 * @returns the bars with pieces in them; new ones never more than before, of each kind.
 */
export function leftoversFirst(
  sizes: readonly number[],
  kinds: readonly NestKind[],
  bars: readonly Bar[],
): Bar[] {
  const isLeftover = (kind: number) => kinds[kind]!.cost === 0
  const free = kinds.map(
    (k, i) =>
      (k.cost === 0 ? (k.count ?? 0) : 0) - bars.filter(b => isLeftover(b.kind) && b.kind === i).length,
  )
  const lengthOf = (pieces: readonly number[]) => pieces.reduce((sum, p) => sum + sizes[p]!, 0)
  const opened = bars.filter(b => !isLeftover(b.kind)).map(b => ({ kind: b.kind, pieces: [...b.pieces] }))
  const used = bars.filter(b => isLeftover(b.kind)).map(b => ({ kind: b.kind, pieces: [...b.pieces] }))
  // Longest first: what only a long one holds goes there; shorter ones take what is left.
  const untouched = free
    .flatMap((count, kind) => Array.from({ length: Math.max(0, Math.min(count, sizes.length)) }, () => kind))
    .map(kind => ({ kind, pieces: [] as number[] }))
  const leftovers = [...used, ...untouched].sort((a, b) => kinds[b.kind]!.room - kinds[a.kind]!.room)

  let better = true
  let work = 0
  while (better && work <= MOST_WORK) {
    better = false
    for (const leftover of leftovers) {
      const { room } = kinds[leftover.kind]!
      for (const bar of opened) {
        if (bar.pieces.length === 0) continue
        const has = lengthOf(leftover.pieces)
        if (room - has <= SLACK) break
        const pool = [...leftover.pieces, ...bar.pieces]
        const { chosen, steps } = fullest(pool, sizes, room)
        work += steps + pool.length
        if (work > MOST_WORK) break
        if (lengthOf(chosen) <= has + SLACK) continue
        leftover.pieces = chosen
        bar.pieces = pool.filter(p => !chosen.includes(p))
        better = true
      }
    }
  }

  everyWay(sizes, kinds, leftovers, opened)

  // Fewer and shorter leftovers for the same pieces.
  const fillings = leftovers.map(l => l.pieces).filter(pieces => pieces.length > 0)
  const all = leftovers.map(l => l.kind).sort((a, b) => kinds[a]!.room - kinds[b]!.room)
  const longest = kinds[all.at(-1) ?? 0]?.room ?? 0
  for (let i = 0; i < fillings.length; i++)
    for (let k = i + 1; k < fillings.length; k++) {
      const both = [...fillings[i]!, ...fillings[k]!]
      if (lengthOf(both) > longest + SLACK) continue
      const merged = [...fillings.filter((_, n) => n !== i && n !== k), both]
      const [apart, together] = [inShortest(fillings), inShortest(merged)]
      if (!apart || !together || roomOf(together) >= roomOf(apart) - SLACK) continue
      fillings.splice(0, fillings.length, ...merged)
      i = -1
      break
    }
  function roomOf(placed: readonly Bar[]): number {
    return placed.reduce((sum, b) => sum + kinds[b.kind]!.room, 0)
  }
  /** Each filling in the shortest leftover that is free, the longest filling first; null when one finds none. */
  function inShortest(list: readonly (readonly number[])[]): Bar[] | null {
    const left = [...all]
    const placed: Bar[] = []
    for (const pieces of [...list].sort((a, b) => lengthOf(b) - lengthOf(a))) {
      const at = left.findIndex(kind => kinds[kind]!.room >= lengthOf(pieces) - SLACK)
      if (at < 0) return null
      placed.push({ kind: left.splice(at, 1)[0]!, pieces })
    }
    return placed
  }
  const placed = inShortest(fillings) ?? leftovers.filter(l => l.pieces.length > 0)
  return [...placed, ...opened.filter(b => b.pieces.length > 0)]
}

interface Filling {
  readonly kind: number
  pieces: number[]
}

/**
 * Every way of sharing the pieces out over these bars, as far as the steps go: one that puts more into leftovers than
 * they hold takes their place.
 */
function everyWay(
  sizes: readonly number[],
  kinds: readonly NestKind[],
  leftovers: readonly Filling[],
  opened: readonly Filling[],
): void {
  const bars = [...leftovers, ...opened]
  const pieces = bars.flatMap(b => b.pieces).sort((a, b) => sizes[b]! - sizes[a]!)
  const left = bars.map(b => kinds[b.kind]!.room)
  const rest = [...pieces.map(p => sizes[p]!), 0]
  for (let i = rest.length - 2; i >= 0; i--) rest[i]! += rest[i + 1]!
  const sum = (of: readonly Filling[]) =>
    of.reduce((all, b) => all + b.pieces.reduce((part, p) => part + sizes[p]!, 0), 0)
  let most = sum(leftovers)
  let steps = 0
  const at: number[] = []
  let best: number[] | null = null
  const share = (i: number, taken: number) => {
    const room = left.slice(0, leftovers.length).reduce((all, r) => all + r, 0)
    if (taken + Math.min(rest[i]!, room) <= most + SLACK || ++steps > MOST_STEPS) return
    if (i === pieces.length) {
      most = taken
      best = [...at]
      return
    }
    const size = sizes[pieces[i]!]!
    left.forEach((has, bar) => {
      const alike = (other: number) =>
        left[other] === has && other < leftovers.length === bar < leftovers.length
      if (has < size - SLACK || left.findIndex((_, other) => alike(other)) < bar) return
      left[bar]! -= size
      at.push(bar)
      share(i + 1, taken + (bar < leftovers.length ? size : 0))
      at.pop()
      left[bar]! += size
    })
  }
  share(0, 0)
  if (best === null) return
  for (const bar of bars) bar.pieces = []
  ;(best as number[]).forEach((bar, i) => {
    bars[bar]!.pieces.push(pieces[i]!)
  })
}

/** Of these pieces those that fill the room most, and the search's steps for it. */
function fullest(pool: readonly number[], sizes: readonly number[], room: number) {
  const bySize = new Map<number, number[]>()
  for (const p of pool) {
    const same = bySize.get(sizes[p]!)
    if (same) same.push(p)
    else bySize.set(sizes[p]!, [p])
  }
  const lengths = [...bySize.keys()]
  const { fill, steps } = knapsacks(
    lengths,
    lengths.map(l => bySize.get(l)!.length),
    lengths,
  )(room)
  return { chosen: fill.map(i => bySize.get(lengths[i]!)!.pop()!), steps }
}
