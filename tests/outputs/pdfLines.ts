/** A straight stroke found in a PDF page, mm from the page's top left corner. */
export interface PdfLine {
  readonly page: number
  readonly x1: number
  readonly y1: number
  readonly x2: number
  readonly y2: number
  /** Line width, mm. */
  readonly width: number
  readonly dashed: boolean
}

/**
 * Reads the strokes of an uncompressed PDF by the operators of ISO 32000 (q, Q, cm, w, d, m, l, S, B), through the page's
 * own matrix and MediaBox: what a printer draws, whatever the writer meant.
 */
export function pdfLines(bytes: Uint8Array): {
  lines: PdfLine[]
  pages: { width: number; height: number }[]
} {
  const text = Array.from(bytes, c => String.fromCharCode(c)).join('')
  const pages = [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]\n\/Contents (\d+) 0 R/g)]
  const boxes = pages.map(m => [Number(m[1]), Number(m[2])] as const)
  const streams = pages.map(([, , , object]) => {
    const head = new RegExp(`\\n${object} 0 obj\\n<<\\n/Length (\\d+)\\n>>\\nstream\\n`).exec(text)!
    const from = head.index + head[0].length
    return text.slice(from, from + Number(head[1]))
  })
  const mm = 25.4 / 72
  const lines: PdfLine[] = []
  streams.forEach((stream, page) => {
    const height = boxes[page]![1]
    let matrix = [1, 0, 0, 1, 0, 0]
    const saved: number[][] = []
    let width = 1
    let dashed = false
    let inBrackets = ''
    let stack: number[] = []
    let at: [number, number] | null = null
    let path: [[number, number], [number, number]][] = []
    const tokens = stream.split(/\s+/)
    const place = ([x, y]: [number, number]) => {
      const [a, b, c, d, e, f] = matrix as [number, number, number, number, number, number]
      return [(a * x + c * y + e) * mm, (height - (b * x + d * y + f)) * mm] as const
    }
    for (let i = 0; i < tokens.length; i++) {
      const t = tokens[i]!
      if (/^\[/.test(t)) {
        let array = t
        while (!array.endsWith(']')) array += ` ${tokens[++i]}`
        inBrackets = array
        stack = []
        continue
      }
      if (/^[-+]?[\d.]+$/.test(t)) {
        stack.push(Number(t))
        continue
      }
      if (t === 'q') saved.push(matrix)
      if (t === 'Q') matrix = saved.pop()!
      if (t === 'cm') {
        const [a, b, c, d, e, f] = stack as [number, number, number, number, number, number]
        const [A, B, C, D, E, F] = matrix as [number, number, number, number, number, number]
        matrix = [
          a * A + b * C,
          a * B + b * D,
          c * A + d * C,
          c * B + d * D,
          e * A + f * C + E,
          e * B + f * D + F,
        ]
      }
      if (t === 'd') dashed = /\d/.test(inBrackets)
      if (t === 'w') width = stack[0]!
      if (t === 'm') at = [stack[0]!, stack[1]!]
      if (t === 'l') {
        const to: [number, number] = [stack[0]!, stack[1]!]
        path.push([at!, to])
        at = to
      }
      if (t === 'S' || t === 'B')
        for (const [p, q] of path) {
          const [x1, y1] = place(p)
          const [x2, y2] = place(q)
          lines.push({ page, x1, y1, x2, y2, width: width * Math.abs(matrix[0]!) * mm, dashed })
        }
      if (/^[SBfn]$/.test(t)) path = []
      stack = []
    }
  })
  return { lines, pages: boxes.map(([w, h]) => ({ width: w * mm, height: h * mm })) }
}
