import type { Vec3 } from '../geometry/vec3.ts'
import { type Box, GREY, type Ink, LABEL, line, type PaperItem, textBox, words } from './paper.ts'
import { textWidth } from './paperFont.ts'
import { type Places, spread } from './placeLabels.ts'
import { type Frame, onPaper } from './views.ts'

/** Least distance of two figures, mm. */
const GAP = 3.3
const AXIS = 'XYZ'

/** Running dimensions along one axis, all from end A: one figure per distinct position, on thin extension lines. */
export function runningDimensions(
  points: readonly Vec3[],
  frame: Frame,
  axis: number,
  along: 'right' | 'up',
  box: Box,
  length: (mm: number) => string,
  /** Figures of the axis that runs right stand at the foot of the same box. */
  withFoot: boolean,
  { items, places, notes }: { items: PaperItem[]; places: Places; notes: string[] },
): void {
  const from = points[0]![axis]!
  const k = along === 'right' ? 0 : 1
  const stops: { at: number; near: number; value: number }[] = []
  points.forEach(p => {
    const paper = onPaper(frame, p)
    const value = p[axis]! - from
    // The extension line starts at the point nearest to the figures.
    const near = along === 'right' ? paper[1] : paper[0]
    const same = stops.find(s => Math.abs(s.value - value) < 0.05)
    if (!same) stops.push({ at: paper[k], near, value })
    else same.near = along === 'right' ? Math.max(same.near, near) : Math.min(same.near, near)
  })
  stops.sort((a, b) => a.at - b.at)
  const ink: Ink = GREY
  const [low, high] =
    along === 'right' ? [box.x + 20, box.x + box.w - 2] : [box.y + 10, box.y + box.h - (withFoot ? 17 : 4)]
  const spots = spread(
    stops.map(s => s.at),
    GAP,
    low,
    high,
  )
  if (!spots) {
    const extent = Math.max(...stops.map(s => s.value)) - Math.min(...stops.map(s => s.value))
    notes.push(
      `${AXIS[axis]}: too many positions to dimension here (overall ${length(extent)}); see the table of points`,
    )
    return
  }
  stops.forEach((s, i) => {
    const spot = spots[i]!
    const text = length(Math.abs(s.value) < 1e-9 ? 0 : s.value)
    if (along === 'right') {
      const base = box.y + box.h - 17
      items.push(line(s.at, s.near + 1.5, s.at, base, 0.1, ink), line(s.at, base, spot, base + 2.5, 0.1, ink))
      const t = words(spot + 0.36 * LABEL, base + 3 + textWidth(text, LABEL), text, LABEL, { turn: 90 })
      items.push(t)
      places.take(textBox(t))
      places.lines.push({ from: [s.at, s.near + 1.5], to: [s.at, base], half: 0.25 })
      places.lines.push({ from: [s.at, base], to: [spot, base + 2.5], half: 0.25 })
    } else {
      const base = box.x + 19
      items.push(line(s.near - 1.5, s.at, base, s.at, 0.1, ink), line(base, s.at, base - 2.5, spot, 0.1, ink))
      const t = words(base - 3, spot + 0.36 * LABEL, text, LABEL, { anchor: 'end' })
      items.push(t)
      places.take(textBox(t))
      places.lines.push({ from: [s.near - 1.5, s.at], to: [base, s.at], half: 0.25 })
      places.lines.push({ from: [base, s.at], to: [base - 2.5, spot], half: 0.25 })
    }
  })
  const name =
    along === 'right'
      ? words(spots[0]! - 2.5, box.y + box.h - 12.5, `${AXIS[axis]} from A`, LABEL, {
          bold: true,
          anchor: 'end',
        })
      : words(box.x + 16, spots[0]! - 3, `${AXIS[axis]} from A`, LABEL, { bold: true, anchor: 'end' })
  items.push(name)
  places.take(textBox(name))
}
