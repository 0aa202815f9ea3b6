import { BLACK, circle, line, type PaperItem, type PathItem, RED, textBox, WHITE, words } from '../paper.ts'
import { textWidth } from '../paperFont.ts'
import type { Places } from '../placeLabels.ts'
import type { At } from './outlines.ts'

/** Width of the line between the nearest points, mm; no other line of a report has it. */
export const GAP_WIDTH = 0.37
const FIGURE = 3.6
const ARROW = 2.4
/** Arrows stand inside a gap that is at least so wide on paper, mm. */
const INSIDE = 7

/** The line between the two nearest points with its arrows and its figure. */
export function drawGap(a: At, b: At, figure: string, items: PaperItem[], places: Places): void {
  const apart = Math.hypot(b[0] - a[0], b[1] - a[1])
  // Points that are one point have no direction; the arrows then show where, side to side.
  const [dx, dy] = apart > 1e-6 ? [(b[0] - a[0]) / apart, (b[1] - a[1]) / apart] : [1, 0]
  const inside = apart >= INSIDE
  const tail = inside ? 0 : 6
  const [from, to]: [At, At] = [
    [a[0] - dx * tail, a[1] - dy * tail],
    [b[0] + dx * tail, b[1] + dy * tail],
  ]
  items.push({ ...line(...from, ...to, 1.5, WHITE) })
  if (!inside) items.push(line(...from, ...a, 0.25, RED), line(...b, ...to, 0.25, RED))
  items.push(line(...a, ...b, GAP_WIDTH, RED))
  const out = inside ? 1 : -1
  items.push(arrow(a, [dx * out, dy * out]), arrow(b, [-dx * out, -dy * out]))
  for (const p of [a, b]) items.push(circle(...p, 0.45, { fill: WHITE, stroke: RED, width: 0.2 }))
  places.lines.push({ from, to, half: 1 })

  const middle: At = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
  const w = textWidth(figure, FIGURE, true) + 1.6
  const h = FIGURE + 0.8
  const candidates = []
  for (let r = 7; r < 34; r += 1.5)
    for (const turn of [90, -90, 60, -60, 120, -120, 75, -75, 105, -105, 45, -45, 135, -135]) {
      const t = Math.atan2(dy, dx) + (turn * Math.PI) / 180
      const centre: At = [middle[0] + (r + w / 3) * Math.cos(t), middle[1] + r * Math.sin(t)]
      const box = { x: centre[0] - w / 2, y: centre[1] - h / 2, w, h }
      const rim: At = [
        Math.min(Math.max(middle[0], box.x), box.x + w),
        Math.min(Math.max(middle[1], box.y), box.y + h),
      ]
      candidates.push({ box, leader: [middle, rim] as const, centre })
    }
  const found = places.first(candidates)
  if (!found) {
    // A picture too small for its own figure cannot be; the figure stands in the corner then, and beside the picture.
    const text = words(places.inside.x + 1, places.inside.y + FIGURE, figure, FIGURE, {
      bold: true,
      ink: RED,
    })
    places.take(textBox(text))
    items.push(text)
    return
  }
  const { box, centre, leader } = found
  items.push(line(...leader[0], ...leader[1], 0.9, WHITE), line(...leader[0], ...leader[1], 0.18, RED))
  items.push({
    kind: 'path',
    steps: [
      ['M', box.x, box.y],
      ['L', box.x + w, box.y],
      ['L', box.x + w, box.y + h],
      ['L', box.x, box.y + h],
      ['Z'],
    ],
    fill: WHITE,
    stroke: RED,
    width: 0.18,
  })
  items.push(
    words(centre[0], centre[1] + 0.36 * FIGURE, figure, FIGURE, { bold: true, anchor: 'middle', ink: BLACK }),
  )
}

function arrow(tip: At, [dx, dy]: At): PathItem {
  const [x, y] = [tip[0] + dx * ARROW, tip[1] + dy * ARROW]
  const half = ARROW * 0.17
  return {
    kind: 'path',
    steps: [['M', ...tip], ['L', x - dy * half, y + dx * half], ['L', x + dy * half, y - dx * half], ['Z']],
    fill: RED,
  }
}
