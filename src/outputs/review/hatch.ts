import type { Box, PathStep } from '../paper.ts'
import type { At } from './outlines.ts'

/** Lines at 45° through a convex area, `apart` mm from each other, kept to the box. */
export function hatch(area: readonly At[], apart: number, box: Box): PathStep[] {
  const inside = clipToBox(area, box)
  if (inside.length < 3) return []
  const across = ([x, y]: At) => (x + y) * Math.SQRT1_2
  const along = ([x, y]: At) => (x - y) * Math.SQRT1_2
  const from = Math.ceil(Math.min(...inside.map(across)) / apart) * apart
  const to = Math.max(...inside.map(across))
  const steps: PathStep[] = []
  for (let c = from; c <= to; c += apart) {
    const cuts: number[] = []
    inside.forEach((p, i) => {
      const q = inside[(i + 1) % inside.length]!
      const [a, b] = [across(p) - c, across(q) - c]
      if (a === b || a * b > 0) return
      cuts.push(along(p) + ((along(q) - along(p)) * a) / (a - b))
    })
    if (cuts.length < 2) continue
    const point = (t: number): At => [(c + t) * Math.SQRT1_2, (c - t) * Math.SQRT1_2]
    steps.push(['M', ...point(Math.min(...cuts))], ['L', ...point(Math.max(...cuts))])
  }
  return steps
}

/** A convex area cut to a box (Sutherland and Hodgman's way, side by side). */
export function clipToBox(area: readonly At[], { x, y, w, h }: Box): At[] {
  let left = [...area]
  const sides: readonly ((p: At) => number)[] = [
    p => p[0] - x,
    p => x + w - p[0],
    p => p[1] - y,
    p => y + h - p[1],
  ]
  for (const inside of sides) {
    const out: At[] = []
    left.forEach((p, i) => {
      const q = left[(i + 1) % left.length]!
      const [a, b] = [inside(p), inside(q)]
      if (a >= 0) out.push(p)
      if (a * b < 0) {
        const t = a / (a - b)
        out.push([p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t])
      }
    })
    left = out
  }
  return left
}
