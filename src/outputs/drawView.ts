import type { Vec3 } from '../geometry/vec3.ts'
import type { SolvedRoute } from '../solve/types.ts'
import { textWidth } from './helvetica.ts'
import {
  BLACK,
  type Box,
  circle,
  GREY,
  type Ink,
  line,
  PALE,
  type PaperItem,
  textBox,
  WHITE,
  words,
} from './paper.ts'
import { Places, spread } from './placeLabels.ts'
import { type Frame, onPaper, project, type Stroke, strokesOf, type View } from './views.ts'

export interface DrawOptions {
  readonly od: number
  readonly length: (mm: number) => string
  /** Axes (0 x, 1 y, 2 z) that get running dimensions from end A. */
  readonly dimensions: readonly number[]
  /** Leg lengths in parentheses: they follow from the bends and are for reference. */
  readonly legs: boolean
  /** Drawing length over true length; the largest preferred one that fits when left out. */
  readonly scale?: number
}

export interface DrawnView {
  readonly items: readonly PaperItem[]
  /** Drawing length over true length. */
  readonly scale: number
  /** Plain sentences on what had no room and where it stands instead. */
  readonly notes: readonly string[]
  /** Boxes of all texts, for proof that none overlap. */
  readonly labels: readonly Box[]
}

/** Preferred scales, from memory after ISO 5455. */
const SCALES = [10, 5, 2, 1, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100, 1 / 200, 1 / 500, 1 / 1000]
const LABEL = 2.7
const BALLOON = 2.4
const GAP = 3.3
const AXIS = 'XYZ'

export const scaleName = (scale: number): string =>
  scale >= 1 ? `${Math.round(scale)}:1` : `1:${Math.round(1 / scale)}`

/** A view of the run inside `box`: tube in its true width, numbered vertices, dimensions; nothing on top of another. */
export function drawView(route: SolvedRoute, view: View, box: Box, options: DrawOptions): DrawnView {
  const square = view.axes !== null
  const { wantsRight, wantsUp, left, right, top, bottom } = margins(view, options.dimensions)
  const inner: Box = {
    x: box.x + left,
    y: box.y + top,
    w: box.w - left - right,
    h: box.h - top - bottom,
  }
  const frame = frameFor(route, view, inner, options.od, options.scale)
  const items: PaperItem[] = []
  const notes: string[] = []
  const places = new Places({ x: box.x, y: box.y + TITLE, w: box.w, h: box.h - TITLE })

  const strokes = strokesOf(route.pieces, frame)
  const half = Math.max(0.35, (options.od * frame.scale) / 2)
  for (const { through } of strokes)
    for (let i = 0; i + 1 < through.length; i++)
      places.lines.push({ from: through[i]!, to: through[i + 1]!, half: half + 0.5 })
  const points = route.points.map(p => onPaper(frame, p))

  if (wantsRight) ordinates(route, frame, view.axes![0], 'right', box, options, { items, places, notes })
  if (wantsUp) ordinates(route, frame, view.axes![1], 'up', box, options, { items, places, notes })
  if (!square) triad(view, box, items, places)

  drawTube(strokes, half, items)
  numberPoints(points, half, items, places, notes)
  if (options.legs) legLengths(route, points, half, options, items, places, notes)

  const name = square ? `${view.name}   ${scaleName(frame.scale)}` : `${view.name}   not to scale`
  const header = words(box.x, box.y + 3.4, name, 3, { bold: true })
  items.push(header)
  return { items, scale: frame.scale, notes, labels: [...places.boxes, textBox(header)] }
}

const TITLE = 5

/** Room that a view keeps for its name, its balloons and its running dimensions, mm. */
function margins(view: View, dimensions: readonly number[]) {
  const wantsRight = view.axes !== null && dimensions.includes(view.axes[0])
  const wantsUp = view.axes !== null && dimensions.includes(view.axes[1])
  return {
    wantsRight,
    wantsUp,
    left: wantsUp ? 24 : 10,
    right: 10,
    top: TITLE + 7,
    bottom: wantsRight ? 22 : 9,
  }
}

/** Paper size of the bare tube in this view at full size, mm. */
function extent(route: SolvedRoute, view: View, od: number) {
  const at = [...route.points, ...arcPoints(route)].map(p => project(view, p))
  const [lowR, highR] = range(at.map(p => p[0]))
  const [lowU, highU] = range(at.map(p => p[1]))
  return { w: highR - lowR + od, h: highU - lowU + od, lowR, highR, lowU, highU }
}

/**
 * The largest preferred scale at which square views stand one above another in this width and height, and the height
 * that each then takes, mm.
 */
export function commonScale(
  route: SolvedRoute,
  views: readonly { readonly view: View; readonly dimensions: readonly number[] }[],
  od: number,
  width: number,
  height: number,
): { scale: number; heights: number[] } {
  const sizes = views.map(v => ({ ...extent(route, v.view, od), m: margins(v.view, v.dimensions) }))
  const heightsAt = (scale: number) => sizes.map(({ h, m }) => Math.max(30, h * scale + m.top + m.bottom + 1))
  const scale =
    SCALES.find(
      s =>
        sizes.every(({ w, m }) => w * s <= width - m.left - m.right) &&
        heightsAt(s).reduce((a, b) => a + b, 0) <= height,
    ) ?? SCALES[SCALES.length - 1]!
  return { scale, heights: heightsAt(scale) }
}

/** At the scale given, or as large as it goes for a view that is not measured on. */
function frameFor(route: SolvedRoute, view: View, inner: Box, od: number, given?: number): Frame {
  const { w, h, lowR, highR, lowU, highU } = extent(route, view, od)
  const most = Math.min(inner.w / w, inner.h / h)
  const scale = given ?? (view.axes ? (SCALES.find(s => s <= most) ?? most) : Math.min(most, 4))
  return {
    view,
    scale,
    x: inner.x + inner.w / 2 - ((lowR + highR) / 2) * scale,
    y: inner.y + inner.h / 2 + ((lowU + highU) / 2) * scale,
  }
}

const arcPoints = (route: SolvedRoute): Vec3[] => route.pieces.flatMap(p => [p.start, p.end])
const range = (values: readonly number[]): [number, number] => [Math.min(...values), Math.max(...values)]

/** Far strokes first; each in black at the tube's width and again paler and narrower, so nearer tube covers farther. */
function drawTube(strokes: readonly Stroke[], half: number, items: PaperItem[]): void {
  const thick = half > 0.45
  for (const s of [...strokes].sort((a, b) => a.depth - b.depth)) {
    const from = s.through[0]!
    const end = s.through[s.through.length - 1]!
    const run = Math.hypot(end[0] - from[0], end[1] - from[1])
    if (run < 0.02 && s.piece.kind === 'line') {
      if (s.first) items.push(circle(from[0], from[1], half, { stroke: BLACK, fill: PALE, width: 0.25 }))
      continue
    }
    items.push({ kind: 'path', steps: s.steps, stroke: BLACK, width: 2 * half })
    if (!thick) continue
    items.push({ kind: 'path', steps: s.steps, stroke: PALE, width: 2 * half - 0.5 })
    if (s.first) {
      // The tangent point: where the bend starts or ends.
      const next = s.steps[1]
      const to = next && next[0] === 'C' ? ([next[1], next[2]] as const) : end
      const l = Math.hypot(to[0] - from[0], to[1] - from[1])
      if (l > 1e-6) {
        const [nx, ny] = [(-(to[1] - from[1]) / l) * half, ((to[0] - from[0]) / l) * half]
        items.push(line(from[0] - nx, from[1] - ny, from[0] + nx, from[1] + ny, 0.13))
      }
    }
  }
  for (const s of strokes)
    items.push({
      kind: 'path',
      steps: s.steps,
      stroke: thick ? GREY : BLACK,
      width: 0.1,
      part: 'centre-line',
    })
}

type At = readonly [number, number]

function numberPoints(
  points: readonly At[],
  half: number,
  items: PaperItem[],
  places: Places,
  notes: string[],
): void {
  const missing: string[] = []
  points.forEach((p, i) => {
    const end = i === 0 || i === points.length - 1
    const label = i === 0 ? 'A' : i === points.length - 1 ? 'B' : String(i)
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
  if (missing.length > 0)
    notes.push(`no room to number ${missing.join(', ')} in this view: see the table of points`)
}

function legLengths(
  route: SolvedRoute,
  points: readonly At[],
  half: number,
  options: DrawOptions,
  items: PaperItem[],
  places: Places,
  notes: string[],
): void {
  const missing: number[] = []
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b] = [route.points[i]!, route.points[i + 1]!]
    const text = `(${options.length(Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]))})`
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
    notes.push(`no room for the length of leg ${missing.join(', ')} in this view: see the table of points`)
}

/** Running dimensions along one axis, all from end A: one figure per distinct position, on thin extension lines. */
function ordinates(
  route: SolvedRoute,
  frame: Frame,
  axis: number,
  along: 'right' | 'up',
  box: Box,
  options: DrawOptions,
  { items, places, notes }: { items: PaperItem[]; places: Places; notes: string[] },
): void {
  const from = route.points[0]![axis]!
  const k = along === 'right' ? 0 : 1
  const stops: { at: number; near: number; value: number }[] = []
  route.points.forEach(p => {
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
  const [low, high] = along === 'right' ? [box.x + 20, box.x + box.w - 2] : [box.y + 10, box.y + box.h - 4]
  const spots = spread(
    stops.map(s => s.at),
    GAP,
    low,
    high,
  )
  if (!spots) {
    const extent = Math.max(...stops.map(s => s.value)) - Math.min(...stops.map(s => s.value))
    notes.push(
      `${AXIS[axis]}: too many positions to dimension here (overall ${options.length(extent)}); see the table of points`,
    )
    return
  }
  stops.forEach((s, i) => {
    const spot = spots[i]!
    const text = options.length(Math.abs(s.value) < 1e-9 ? 0 : s.value)
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

/** Which way the skid's axes run in the picture. */
function triad(view: View, box: Box, items: PaperItem[], places: Places): void {
  const [x, y] = [box.x + 10, box.y + box.h - 8]
  const reach: Box = { x: box.x, y: y - 12, w: 21, h: 20 }
  ;(
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).forEach((axis, k) => {
    const [r, u] = project(view, axis)
    const [tx, ty] = [x + 8 * r, y - 8 * u]
    items.push(line(x, y, tx, ty, 0.25))
    const l = Math.hypot(r, u)
    items.push(words(tx + (2 * r) / l, ty - (2 * u) / l + 0.9, AXIS[k]!, 2.5, { anchor: 'middle' }))
  })
  places.take(reach)
}
