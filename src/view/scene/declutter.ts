/** A text on the screen, px: where its box is and how much it matters (lower is more). */
export interface Placed {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  readonly rank: number
}

/** Which of the boxes to show so that none covers another: by rank, then in order. */
export function declutter(boxes: readonly (Placed | null)[]): boolean[] {
  const shown = boxes.map(() => false)
  const order = boxes.flatMap((box, i) => (box ? [{ box, i }] : []))
  order.sort((a, b) => a.box.rank - b.box.rank || a.i - b.i)
  const kept: Placed[] = []
  for (const { box, i } of order) {
    const covers = kept.some(
      k =>
        box.x < k.x + k.width &&
        k.x < box.x + box.width &&
        box.y < k.y + k.height &&
        k.y < box.y + box.height,
    )
    if (covers) continue
    shown[i] = true
    kept.push(box)
  }
  return shown
}
