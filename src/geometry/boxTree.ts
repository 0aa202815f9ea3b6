import type { Vec3 } from './vec3.ts'

export interface Bounds {
  readonly low: Vec3
  readonly high: Vec3
}

interface Branch extends Bounds {
  readonly left: Branch | null
  readonly right: Branch | null
  readonly items: readonly number[]
}

const LEAF = 8

export const boundsMeet = (a: Bounds, b: Bounds, within: number): boolean =>
  a.low[0] - within <= b.high[0] &&
  b.low[0] - within <= a.high[0] &&
  a.low[1] - within <= b.high[1] &&
  b.low[1] - within <= a.high[1] &&
  a.low[2] - within <= b.high[2] &&
  b.low[2] - within <= a.high[2]

/** Axis-parallel boxes in a tree, halved at the middle item along the longest side of their centres. */
export class BoxTree {
  private readonly root: Branch | null
  private readonly boxes: readonly Bounds[]

  /** @param boxes finite bounds, mm; answers name them by their place in this list. */
  constructor(boxes: readonly Bounds[]) {
    this.boxes = boxes
    this.root = boxes.length > 0 ? this.grow(boxes.map((_, i) => i)) : null
  }

  /** Calls `found` with every box that comes within `within` (mm, along each axis) of `near`. */
  query(near: Bounds, within: number, found: (index: number) => void): void {
    const open: (Branch | null)[] = [this.root]
    while (open.length > 0) {
      const branch = open.pop()
      if (!branch || !boundsMeet(branch, near, within)) continue
      for (const i of branch.items) if (boundsMeet(this.boxes[i]!, near, within)) found(i)
      open.push(branch.left, branch.right)
    }
  }

  private grow(items: number[]): Branch {
    const low: [number, number, number] = [Infinity, Infinity, Infinity]
    const high: [number, number, number] = [-Infinity, -Infinity, -Infinity]
    for (const i of items)
      for (const k of [0, 1, 2] as const) {
        low[k] = Math.min(low[k], this.boxes[i]!.low[k])
        high[k] = Math.max(high[k], this.boxes[i]!.high[k])
      }
    if (items.length <= LEAF) return { low, high, left: null, right: null, items }
    const sides = [high[0] - low[0], high[1] - low[1], high[2] - low[2]]
    const k = sides.indexOf(Math.max(...sides)) as 0 | 1 | 2
    const middle = (i: number) => this.boxes[i]!.low[k] + this.boxes[i]!.high[k]
    items.sort((a, b) => middle(a) - middle(b))
    const half = items.length >> 1
    return {
      low,
      high,
      left: this.grow(items.slice(0, half)),
      right: this.grow(items.slice(half)),
      items: [],
    }
  }
}
