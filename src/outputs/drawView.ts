import type { TubeFace } from '../solve/finishedTube.ts'
import type { SolvedRoute } from '../solve/types.ts'
import { drawTube } from './drawTube.ts'
import { legLengths, numberPoints, ringNames } from './labelPoints.ts'
import { type Box, line, type PaperItem, textBox, words } from './paper.ts'
import { Places } from './placeLabels.ts'
import { runningDimensions } from './runningDimensions.ts'
import { markSupports, type SupportMark } from './sheetSupports.ts'
import { type Frame, onPaper, project, strokesOf, type View } from './views.ts'

/** What a view draws: a finished tube, or a bare route. */
export interface DrawnTube extends Pick<SolvedRoute, 'points' | 'pieces' | 'bends'> {
  readonly faces?: readonly TubeFace[]
}

export interface DrawOptions {
  readonly od: number
  readonly length: (mm: number) => string
  /** Axes (0 x, 1 y, 2 z) that get running dimensions from end A. */
  readonly dimensions: readonly number[]
  /** Leg lengths in parentheses: they follow from the bends and are for reference. */
  readonly legs: boolean
  /** Drawing length over true length; the largest preferred one that fits when left out. */
  readonly scale?: number
  readonly supports?: readonly SupportMark[]
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

/** The largest preferred scale that is no larger; that one itself where all are larger. */
export const largestScale = (most: number): number => SCALES.find(s => s <= most) ?? most

/** Preferred scales, from memory after ISO 5455. */
export const SCALES = [10, 5, 2, 1, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100, 1 / 200, 1 / 500, 1 / 1000]
const AXIS = 'XYZ'

export const scaleName = (scale: number): string =>
  scale >= 1 ? `${Math.round(scale)}:1` : `1:${Math.round(1 / scale)}`

/** A view of the run inside `box`: tube in its true width, numbered vertices, dimensions; nothing on top of another. */
export function drawView(tube: DrawnTube, view: View, box: Box, options: DrawOptions): DrawnView {
  const square = view.axes !== null
  const { wantsRight, wantsUp, left, right, top, bottom } = margins(view, options.dimensions)
  const inner: Box = {
    x: box.x + left,
    y: box.y + top,
    w: box.w - left - right,
    h: box.h - top - bottom,
  }
  const frame = frameFor(tube, view, inner, options.od, options.scale)
  const items: PaperItem[] = []
  const notes: string[] = []
  const places = new Places({ x: box.x, y: box.y + TITLE, w: box.w, h: box.h - TITLE })

  const strokes = strokesOf(tube.pieces, frame)
  const half = Math.max(0.35, (options.od * frame.scale) / 2)
  for (const { through } of strokes)
    for (let i = 0; i + 1 < through.length; i++)
      places.lines.push({ from: through[i]!, to: through[i + 1]!, half: half + 0.5 })
  const points = tube.points.map(p => onPaper(frame, p))

  if (wantsRight)
    runningDimensions(tube.points, frame, view.axes![0], 'right', box, options.length, false, {
      items,
      places,
      notes,
    })
  if (wantsUp)
    runningDimensions(tube.points, frame, view.axes![1], 'up', box, options.length, wantsRight, {
      items,
      places,
      notes,
    })
  if (!square) triad(view, box, items, places)

  drawTube(strokes, half, items)
  for (const face of tube.faces ?? []) insertionMark(face, frame, half, items, places)
  numberPoints(points, ringNames(tube), half, items, places, notes)
  markSupports(options.supports ?? [], frame, half, items, places, notes)
  if (options.legs) legLengths(tube.points, points, half, options.length, items, places, notes)

  const name = square ? `${view.name}   ${scaleName(frame.scale)}` : `${view.name}   not to scale`
  const header = words(box.x, box.y + 3.4, name, 3, { bold: true })
  items.push(header)
  const where = view.name.split(',')[0]
  return {
    items,
    scale: frame.scale,
    notes: notes.map(n => `${where}: ${n}`),
    labels: [...places.boxes, textBox(header)],
  }
}

const TITLE = 5

/** Room that a view keeps for its name, its balloons and its running dimensions, mm. */
export function margins(view: View, dimensions: readonly number[]) {
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
export function extent(tube: DrawnTube, view: View, od: number) {
  const at = [...tube.points, ...tube.pieces.flatMap(p => [p.start, p.end])].map(p => project(view, p))
  const [lowR, highR] = range(at.map(p => p[0]))
  const [lowU, highU] = range(at.map(p => p[1]))
  return { w: highR - lowR + od, h: highU - lowU + od, lowR, highR, lowU, highU }
}

/** At the scale given, or as large as it goes for a view that is not measured on. */
function frameFor(tube: DrawnTube, view: View, inner: Box, od: number, given?: number): Frame {
  const { w, h, lowR, highR, lowU, highU } = extent(tube, view, od)
  const most = Math.min(inner.w / w, inner.h / h)
  const scale = given ?? (view.axes ? largestScale(most) : Math.min(most, 4))
  return {
    view,
    scale,
    x: inner.x + inner.w / 2 - ((lowR + highR) / 2) * scale,
    y: inner.y + inner.h / 2 + ((lowU + highU) / 2) * scale,
  }
}

const range = (values: readonly number[]): [number, number] => [Math.min(...values), Math.max(...values)]

/** Past the tube on either side, mm. */
const PAST_TUBE = 1.3

/** A stroke across the tube where the port's face comes; none where the tube is seen end on. */
function insertionMark(
  { at, direction }: TubeFace,
  frame: Frame,
  half: number,
  items: PaperItem[],
  places: Places,
): void {
  const [r, u] = project(frame.view, direction)
  const l = Math.hypot(r, u)
  if (l < 0.2) return
  const [x, y] = onPaper(frame, at)
  const [dx, dy] = [(u / l) * (half + PAST_TUBE), (r / l) * (half + PAST_TUBE)]
  items.push(line(x - dx, y - dy, x + dx, y + dy, 0.35))
  places.lines.push({ from: [x - dx, y - dy], to: [x + dx, y + dy], half: 0.4 })
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
