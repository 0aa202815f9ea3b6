/** Entries by a number, least first: the open list of a branch and bound. */
export class NearestHeap<T> {
  private readonly keys: number[] = []
  private readonly items: T[] = []

  get size(): number {
    return this.keys.length
  }

  /** Least key, or Infinity when empty. */
  get least(): number {
    return this.keys[0] ?? Infinity
  }

  push(key: number, item: T): void {
    const { keys, items } = this
    let i = keys.length
    keys.push(key)
    items.push(item)
    while (i > 0) {
      const up = (i - 1) >> 1
      if (keys[up]! <= key) break
      keys[i] = keys[up]!
      items[i] = items[up]!
      i = up
    }
    keys[i] = key
    items[i] = item
  }

  /** Takes the entry with the least key; undefined when empty. */
  pop(): T | undefined {
    const { keys, items } = this
    const top = items[0]
    const key = keys.pop()
    const item = items.pop()
    if (keys.length === 0 || key === undefined || item === undefined) return top
    let i = 0
    for (;;) {
      let down = 2 * i + 1
      if (down >= keys.length) break
      if (down + 1 < keys.length && keys[down + 1]! < keys[down]!) down++
      if (keys[down]! >= key) break
      keys[i] = keys[down]!
      items[i] = items[down]!
      i = down
    }
    keys[i] = key
    items[i] = item
    return top
  }
}
