import { BLACK, GREY, LABEL, line, type PaperItem, rectangle, WHITE, words } from '../paper.ts'
import { textWidth } from '../paperFont.ts'
import type { Places } from '../placeLabels.ts'
import { fitted } from '../titleBlock.ts'
import type { At } from './outlines.ts'

const WIDEST = 46

/** The name of a thing beside one of its points, with a leader; false when there is no room for it. */
export function labelThing(
  name: string,
  points: readonly At[],
  items: PaperItem[],
  places: Places,
  party: boolean,
): boolean {
  const size = party ? LABEL + 0.3 : LABEL - 0.3
  const text = fitted(name, WIDEST, size, size)
  const w = textWidth(text.text, size, party) + 1
  const h = size + 0.4
  const { x, y, w: wide, h: high } = places.inside
  const middle: At = [x + wide / 2, y + high / 2]
  const off = (p: At) =>
    Math.max((2 * Math.abs(p[0] - middle[0])) / wide, (2 * Math.abs(p[1] - middle[1])) / high)
  // Halfway from the gap to the border is where a name is in nobody's way.
  const anchors = points
    .filter(p => off(p) < 0.97)
    .sort((p, q) => Math.abs(off(p) - 0.6) - Math.abs(off(q) - 0.6))
    .slice(0, 12)
  const found = places.first(candidates(anchors, w, h))
  if (!found) return false
  const ink = party ? BLACK : GREY
  const [from, to] = found.leader
  if (Math.hypot(to[0] - from[0], to[1] - from[1]) > 0.3)
    items.push(line(...from, ...to, 0.7, WHITE), line(...from, ...to, 0.13, ink))
  items.push(rectangle(found.box, { fill: WHITE }))
  items.push(
    words(found.centre[0], found.centre[1] + 0.36 * size, text.text, size, {
      anchor: 'middle',
      bold: party,
      ink,
    }),
  )
  return true
}

function* candidates(anchors: readonly At[], w: number, h: number) {
  for (const p of anchors)
    for (const r of [0, 3, 5, 7, 10, 13, 17])
      for (let k = 0; k < (r === 0 ? 1 : 12); k++) {
        const t = -Math.PI / 4 + (k * Math.PI) / 6
        const centre: At = [p[0] + (r + (r && w / 2)) * Math.cos(t), p[1] + r * Math.sin(t)]
        const box = { x: centre[0] - w / 2, y: centre[1] - h / 2, w, h }
        const rim: At = [
          Math.min(Math.max(p[0], box.x), box.x + w),
          Math.min(Math.max(p[1], box.y), box.y + h),
        ]
        yield { box, centre, leader: [p, rim] as const }
      }
}
