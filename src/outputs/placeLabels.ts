import { type Box, overlap } from './paper.ts'

/** A stretch of ink that labels keep off: a straight line with a half width, mm. */
export interface Obstacle {
  readonly from: readonly [number, number]
  readonly to: readonly [number, number]
  readonly half: number
}

/** Boxes and lines that are taken on one drawing; a label asks for a place and takes it. */
export class Places {
  readonly boxes: Box[] = []
  readonly lines: Obstacle[] = []
  constructor(readonly inside: Box) {}

  /** True when the box is inside the drawing and touches nothing that is taken. */
  free(box: Box): boolean {
    const { inside } = this
    if (
      box.x < inside.x ||
      box.y < inside.y ||
      box.x + box.w > inside.x + inside.w ||
      box.y + box.h > inside.y + inside.h
    )
      return false
    return (
      !this.boxes.some(b => overlap(b, box)) &&
      !this.lines.some(l => near(box, l) && boxToLine(box, l) < l.half)
    )
  }

  /** True when a leader from `a` to `b` runs through no label. */
  clear(a: readonly [number, number], b: readonly [number, number]): boolean {
    return !this.boxes.some(
      box => near(box, { from: a, to: b, half: 0.2 }) && boxToLine(box, { from: a, to: b }) < 0.2,
    )
  }

  take(box: Box): void {
    this.boxes.push(box)
  }

  /** The first of the candidates that is free, taken; null when none is. */
  first<
    T extends {
      readonly box: Box
      readonly leader?: readonly [readonly [number, number], readonly [number, number]]
    },
  >(candidates: Iterable<T>): T | null {
    for (const c of candidates) {
      if (!this.free(c.box)) continue
      if (c.leader && !this.clear(...c.leader)) continue
      this.take(c.box)
      if (c.leader) this.lines.push({ from: c.leader[0], to: c.leader[1], half: 0.3 })
      return c
    }
    return null
  }
}

/** False when the line's own bounding box is further off than its half width: spares most of the exact distances. */
const near = (box: Box, { from, to, half }: Obstacle): boolean =>
  Math.min(from[0], to[0]) - half < box.x + box.w &&
  Math.max(from[0], to[0]) + half > box.x &&
  Math.min(from[1], to[1]) - half < box.y + box.h &&
  Math.max(from[1], to[1]) + half > box.y

/** Least distance between a box and a line piece, mm; 0 when they meet. */
export function boxToLine(box: Box, { from, to }: Pick<Obstacle, 'from' | 'to'>): number {
  const outside = ([x, y]: readonly [number, number]) =>
    Math.hypot(Math.max(box.x - x, 0, x - box.x - box.w), Math.max(box.y - y, 0, y - box.y - box.h))
  // The distance to a convex box is convex along the line: thirds close in on its least.
  let [a, b] = [0, 1]
  const at = (t: number) => outside([from[0] + (to[0] - from[0]) * t, from[1] + (to[1] - from[1]) * t])
  for (let i = 0; i < 40; i++) {
    const [p, q] = [a + (b - a) / 3, b - (b - a) / 3]
    if (at(p) <= at(q)) b = q
    else a = p
  }
  return Math.min(at(a), at(b), at(0), at(1))
}

/**
 * Places along a line for labels that want to stand at `wanted` (ascending) but need `gap` between them, moved as
 * little as may be, within [low, high]; null when there is no room for all.
 */
export function spread(wanted: readonly number[], gap: number, low: number, high: number): number[] | null {
  if ((wanted.length - 1) * gap > high - low + 1e-9) return null
  // Neighbours that would touch move as one group around the mean of what they want.
  const groups: { sum: number; count: number }[] = []
  const start = (g: { sum: number; count: number }) => {
    const span = (g.count - 1) * gap
    return Math.min(Math.max(g.sum / g.count - span / 2, low), high - span)
  }
  for (const w of wanted) {
    groups.push({ sum: w, count: 1 })
    for (let n = groups.length; n > 1; n--) {
      const [before, last] = [groups[n - 2]!, groups[n - 1]!]
      if (start(before) + before.count * gap <= start(last) + 1e-9) break
      groups.splice(n - 2, 2, { sum: before.sum + last.sum, count: before.count + last.count })
    }
  }
  return groups.flatMap(g => Array.from({ length: g.count }, (_, i) => start(g) + i * gap))
}
