import { covers, type ScreenBox } from './overlay/keepInside.ts'

/** A text on the screen, px: where its box is and how much it matters (lower is more). */
export interface Placed extends ScreenBox {
  readonly rank: number
}

/**
 * Which of the boxes to show so that none covers another: by rank, then in order.
 *
 * @param taken where something lies over the picture: a box that reaches under it is not shown, but for those of rank
 *   below 0, which are always shown.
 */
export function declutter(boxes: readonly (Placed | null)[], taken: readonly ScreenBox[] = []): boolean[] {
  const shown = boxes.map(() => false)
  const order = boxes.flatMap((box, i) => (box ? [{ box, i }] : []))
  order.sort((a, b) => a.box.rank - b.box.rank || a.i - b.i)
  const kept: Placed[] = []
  for (const { box, i } of order) {
    if (kept.some(k => covers(k, box)) || (box.rank >= 0 && taken.some(t => covers(t, box)))) continue
    shown[i] = true
    kept.push(box)
  }
  return shown
}
