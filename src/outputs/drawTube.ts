import { BLACK, circle, GREY, line, PALE, type PaperItem } from './paper.ts'
import type { Stroke } from './views.ts'

/** Far strokes first; each in black at the tube's width and again paler and narrower, so nearer tube covers farther. */
export function drawTube(strokes: readonly Stroke[], half: number, items: PaperItem[]): void {
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
    items.push({ kind: 'path', steps: s.cover, stroke: PALE, width: 2 * half - 0.5 })
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
