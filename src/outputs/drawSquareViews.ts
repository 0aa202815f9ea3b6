import { type DrawnTube, drawView, extent, margins, SCALES } from './drawView.ts'
import type { Box, PaperItem } from './paper.ts'
import type { SupportMark } from './sheetSupports.ts'
import { squareViews } from './views.ts'

/** A view's name and scale need this much, mm. */
const NARROWEST = 64
const LOWEST = 30

export interface SquareViews {
  /** From (0, 0), at most as wide as was given. */
  readonly items: readonly PaperItem[]
  readonly height: number
  readonly scale: number
  readonly notes: readonly string[]
}

/**
 * The one or two square views of the run at one preferred scale, as large as it goes in this width and height, one
 * above the other or side by side. Each skid axis is dimensioned once.
 */
export function drawSquareViews(
  tube: DrawnTube,
  od: number,
  room: { readonly w: number; readonly h: number },
  length: (mm: number) => string,
  supports: readonly SupportMark[] = [],
): SquareViews {
  const given = new Set<number>()
  const views = squareViews(tube.points).map(view => {
    const dimensions = view.axes!.filter(k => !given.has(k))
    for (const k of dimensions) given.add(k)
    return { view, dimensions, size: extent(tube, view, od), m: margins(view, dimensions) }
  })
  const widths = (s: number) => views.map(v => Math.max(NARROWEST, v.size.w * s + v.m.left + v.m.right))
  const heights = (s: number) => views.map(v => Math.max(LOWEST, v.size.h * s + v.m.top + v.m.bottom + 1))
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0)
  const stacked = (s: number) => Math.max(...widths(s)) <= room.w && sum(heights(s)) <= room.h
  const beside = (s: number) => sum(widths(s)) <= room.w && Math.max(...heights(s)) <= room.h
  const scale = SCALES.find(s => stacked(s) || beside(s)) ?? SCALES[SCALES.length - 1]!

  const boxes: Box[] = []
  const hs = heights(scale)
  if (!stacked(scale) && beside(scale)) {
    const ws = widths(scale)
    const spare = (room.w - sum(ws)) / ws.length
    let x = 0
    for (const w of ws) {
      boxes.push({ x, y: 0, w: w + spare, h: Math.max(...hs) })
      x += w + spare
    }
  } else {
    let y = 0
    for (const h of hs) {
      boxes.push({ x: 0, y, w: room.w, h })
      y += h
    }
  }
  const drawn = views.map(({ view, dimensions }, i) =>
    drawView(tube, view, boxes[i]!, { od, length, dimensions, legs: false, scale, supports }),
  )
  return {
    items: drawn.flatMap(d => d.items),
    height: Math.max(...boxes.map(b => b.y + b.h)),
    scale,
    notes: drawn.flatMap(d => d.notes),
  }
}
