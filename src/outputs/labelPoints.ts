import { distance, type Vec3 } from '../geometry/vec3.ts'
import type { SolvedRoute } from '../solve/types.ts'
import { BLACK, type Box, circle, GREY, LABEL, line, type PaperItem, WHITE, words } from './paper.ts'
import { textWidth } from './paperFont.ts'
import type { Places } from './placeLabels.ts'

/** Radius of the ring round a point's number, mm. */
const BALLOON = 2.4

type At = readonly [number, number]

/**
 * What stands in the rings: the ends' letters and the bends' numbers, as the table of bends has them. A point that the
 * tube passes straight through has the point's own number, as findings and tables of points count: end A is the first.
 */
export const ringNames = ({ points, bends }: { points: readonly unknown[]; bends: SolvedRoute['bends'] }) =>
  points.map((_, i) => {
    if (i === 0) return 'A'
    if (i === points.length - 1) return 'B'
    const bend = bends.findIndex(b => b.vertex === i)
    return bend < 0 ? `P${i + 1}` : String(bend + 1)
  })

/** Each point's name in a ring beside it, away from its neighbours where there is room. */
export function numberPoints(
  points: readonly At[],
  names: readonly string[],
  half: number,
  items: PaperItem[],
  places: Places,
  notes: string[],
): void {
  const missing: string[] = []
  points.forEach((p, i) => {
    const end = i === 0 || i === points.length - 1
    const label = names[i]!
    const before = points[i - 1] ?? points[i + 1]!
    const after = points[i + 1] ?? points[i - 1]!
    // Away from both neighbours is where there is most room.
    const away = Math.atan2(2 * p[1] - before[1] - after[1], 2 * p[0] - before[0] - after[0])
    const width = Math.max(2 * BALLOON, textWidth(label, LABEL, true) + 2)
    const candidates: { box: Box; leader: readonly [At, At]; centre: At }[] = []
    for (let r = half + BALLOON + 1; r < half + 26; r += 1.5)
      for (let k = 0; k < 16; k++) {
        const turn = away + ((k % 2 === 0 ? 1 : -1) * Math.ceil(k / 2) * Math.PI) / 8
        const centre: At = [p[0] + r * Math.cos(turn), p[1] + r * Math.sin(turn)]
        const rim: At = [centre[0] - BALLOON * Math.cos(turn), centre[1] - BALLOON * Math.sin(turn)]
        candidates.push({
          box: { x: centre[0] - width / 2, y: centre[1] - BALLOON, w: width, h: 2 * BALLOON },
          leader: [p, rim],
          centre,
        })
      }
    const found = places.first(candidates)
    if (!found) {
      missing.push(label)
      return
    }
    const [x, y] = found.centre
    if (!end)
      items.push(
        line(p[0] - 0.8, p[1], p[0] + 0.8, p[1], 0.13),
        line(p[0], p[1] - 0.8, p[0], p[1] + 0.8, 0.13),
      )
    items.push(line(...found.leader[0], ...found.leader[1], 0.13))
    items.push(circle(x, y, BALLOON, { stroke: BLACK, fill: WHITE, width: end ? 0.35 : 0.18 }))
    items.push(words(x, y + 0.36 * LABEL, label, LABEL, { bold: true, anchor: 'middle' }))
  })
  if (missing.length > 0) notes.push(`no room to number ${missing.join(', ')}: see the table of points`)
}

/** Each leg's length between corners beside it, in parentheses; at the ends from where the tube ends. */
export function legLengths(
  corners: readonly Vec3[],
  points: readonly At[],
  half: number,
  length: (mm: number) => string,
  items: PaperItem[],
  places: Places,
  notes: string[],
): void {
  const missing: number[] = []
  for (let i = 0; i + 1 < points.length; i++) {
    const text = `(${length(distance(corners[i]!, corners[i + 1]!))})`
    const [p, q] = [points[i]!, points[i + 1]!]
    const l = Math.hypot(q[0] - p[0], q[1] - p[1])
    const [nx, ny] = l > 1e-6 ? [-(q[1] - p[1]) / l, (q[0] - p[0]) / l] : [0, -1]
    const w = textWidth(text, LABEL) + 0.8
    const h = LABEL
    const candidates: { box: Box; leader: readonly [At, At]; centre: At; far: boolean }[] = []
    for (let off = 0.8; off < 16; off += 1.2)
      for (const t of [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8])
        for (const side of [1, -1]) {
          const from: At = [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t]
          const reach = half + off + (Math.abs(nx) * w + Math.abs(ny) * h) / 2
          const centre: At = [from[0] + side * nx * reach, from[1] + side * ny * reach]
          const foot: At = [from[0] + side * nx * (half + off), from[1] + side * ny * (half + off)]
          candidates.push({
            box: { x: centre[0] - w / 2, y: centre[1] - h / 2, w, h },
            leader: [from, foot],
            centre,
            far: off > 3,
          })
        }
    const found = places.first(candidates)
    if (!found) {
      missing.push(i + 1)
      continue
    }
    if (found.far) items.push(line(...found.leader[0], ...found.leader[1], 0.1, GREY))
    items.push(words(found.centre[0], found.centre[1] + 0.36 * LABEL, text, LABEL, { anchor: 'middle' }))
  }
  if (missing.length > 0)
    notes.push(`no room for the length of leg ${missing.join(', ')}: see the table of points`)
}
