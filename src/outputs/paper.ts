import { textWidth } from './paperFont.ts'

/** One step of a path, mm on the page. */
export type PathStep =
  | readonly ['M' | 'L', number, number]
  | readonly ['C', number, number, number, number, number, number]
  | readonly ['Z']

/** Red, green, blue, 0 to 1. */
export type Ink = readonly [number, number, number]
export const BLACK: Ink = [0, 0, 0]
export const GREY: Ink = [0.45, 0.45, 0.45]
export const PALE: Ink = [0.92, 0.92, 0.92]
export const WHITE: Ink = [1, 1, 1]
/** Font size of labels and dimensions on drawings, mm. */
export const LABEL = 2.7

export const RED: Ink = [0.75, 0.05, 0.05]

export interface PathItem {
  readonly kind: 'path'
  readonly steps: readonly PathStep[]
  readonly stroke?: Ink
  readonly fill?: Ink
  /** Line width, mm. */
  readonly width?: number
  readonly dash?: readonly number[]
  /** What the path is, for whoever reads the drawing back: written as a class in SVG. */
  readonly part?: 'centre-line'
  /** Only what is inside is drawn. */
  readonly clip?: Box
}
export interface TextItem {
  readonly kind: 'text'
  /** Anchor on the baseline, mm. */
  readonly x: number
  readonly y: number
  readonly text: string
  /** Font size, mm (capitals are about 0.72 of it). */
  readonly size: number
  readonly bold?: boolean
  readonly anchor?: 'start' | 'middle' | 'end'
  /** Degrees, counter-clockwise as read. */
  readonly turn?: number
  readonly ink?: Ink
}
/** Paths that stand once in the file and are shown at many places, moved by x, y mm. Known by identity of `of`. */
export interface SharedItem {
  readonly kind: 'shared'
  readonly of: readonly PathItem[]
  readonly x: number
  readonly y: number
}
export type PaperItem = PathItem | TextItem | SharedItem

/** A page of paper: mm from its top left corner, y down. Items are painted in order. */
export interface PaperPage {
  readonly width: number
  readonly height: number
  readonly items: readonly PaperItem[]
}

export interface Box {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

export const line = (
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  width = 0.18,
  stroke: Ink = BLACK,
  dash?: readonly number[],
): PathItem => ({
  kind: 'path',
  steps: [
    ['M', x1, y1],
    ['L', x2, y2],
  ],
  stroke,
  width,
  ...(dash ? { dash } : {}),
})

export const rectangle = ({ x, y, w, h }: Box, style: Omit<PathItem, 'kind' | 'steps'>): PathItem => ({
  kind: 'path',
  steps: [['M', x, y], ['L', x + w, y], ['L', x + w, y + h], ['L', x, y + h], ['Z']],
  ...style,
})

/** Four Bézier quarters; at these sizes they are a circle to a thousandth of its radius. */
export function circle(x: number, y: number, r: number, style: Omit<PathItem, 'kind' | 'steps'>): PathItem {
  const k = 0.5522847498 * r
  return {
    kind: 'path',
    steps: [
      ['M', x + r, y],
      ['C', x + r, y + k, x + k, y + r, x, y + r],
      ['C', x - k, y + r, x - r, y + k, x - r, y],
      ['C', x - r, y - k, x - k, y - r, x, y - r],
      ['C', x + k, y - r, x + r, y - k, x + r, y],
      ['Z'],
    ],
    ...style,
  }
}

export const words = (
  x: number,
  y: number,
  text: string,
  size: number,
  more: Partial<Omit<TextItem, 'kind' | 'x' | 'y' | 'text' | 'size'>> = {},
): TextItem => ({ kind: 'text', x, y, text, size, ...more })

/** The box that a text covers, from a little under the baseline to the capitals' top; turned texts by quarters only. */
export function textBox(t: TextItem): Box {
  const w = textWidth(t.text, t.size, t.bold)
  const along = t.anchor === 'end' ? -w : t.anchor === 'middle' ? -w / 2 : 0
  const up = 0.74 * t.size
  const down = 0.21 * t.size
  if (t.turn === 90) return { x: t.x - up, y: t.y - along - w, w: up + down, h: w }
  return { x: t.x + along, y: t.y - up, w, h: up + down }
}

export const overlap = (a: Box, b: Box, by = 0): boolean =>
  a.x < b.x + b.w - by && b.x < a.x + a.w - by && a.y < b.y + b.h - by && b.y < a.y + a.h - by

/** The items shifted by so many mm. */
export function moved(items: readonly PaperItem[], dx: number, dy: number): PaperItem[] {
  return items.map((item): PaperItem => {
    if (item.kind !== 'path') return { ...item, x: item.x + dx, y: item.y + dy }
    const steps = item.steps.map((s): PathStep => {
      if (s[0] === 'Z') return s
      if (s[0] === 'C') return ['C', s[1] + dx, s[2] + dy, s[3] + dx, s[4] + dy, s[5] + dx, s[6] + dy]
      return [s[0], s[1] + dx, s[2] + dy]
    })
    const { clip } = item
    return { ...item, steps, ...(clip ? { clip: { ...clip, x: clip.x + dx, y: clip.y + dy } } : {}) }
  })
}
