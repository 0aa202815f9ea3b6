import { BLACK, GREY, type Ink, line, PALE, type PaperItem, RED, rectangle, words } from './paper.ts'
import { wrapText } from './paperFont.ts'
import type { ReleaseState } from './releaseState.ts'
import { fitted } from './titleBlock.ts'

export interface HeadLine {
  readonly text: string
  readonly bold?: boolean
  readonly small?: boolean
}

const LEFT = 12
const RIGHT = 24
/** Of the bars that show the printer's true size, mm. */
const BAR = 100
const STAMP = 12

/** What stands beside a bar; with its length in inches where those are used. */
export const barName = (axis: 'X' | 'Y', inch: boolean): string =>
  `${axis}: 100 mm${inch ? ` (${(BAR / 25.4).toFixed(3)} in)` : ''}`

interface Head {
  /** Of the page, mm. */
  readonly width: number
  /** How much longer than true a bar is drawn, so that this printer makes it true. */
  readonly factors: { readonly x: number; readonly y: number }
  readonly state: ReleaseState
  readonly inch: boolean
  readonly lines: readonly HeadLine[]
}

/**
 * The head of every page of a strip: whose it is, the level check bar, the release stamp, what the lines of the strip
 * mean, and what to heed.
 */
export function stripHead({ width, factors, state, inch, lines }: Head) {
  const barX = width - RIGHT - BAR * factors.x
  const beside = barX - LEFT - 5
  // The first lines stand beside bar and stamp, what does not fit there below them over the whole width.
  const besideUntil = 19 + STAMP
  const set: { text: string; size: number; bold: boolean; y: number }[] = []
  let y = legendBottom()
  for (const { text, bold = false, small = false } of lines) {
    const size = small ? 2.3 : 2.8
    const lead = size * 1.35
    let rest = text
    while (rest !== '') {
      const room = y + lead > besideUntil + 2 ? width - LEFT - RIGHT : beside
      const [first = '', ...more] = wrapText(rest, room, size, bold)
      y += lead
      set.push({ text: first, size, bold, y })
      rest = more.join(' ')
    }
  }
  const height = Math.max(y, besideUntil) + 5
  return {
    height,
    draw(name: string, about: string): PaperItem[] {
      const title = fitted(name, beside, 4.4)
      const under = fitted(about, beside, 2.8, 1.9)
      const items: PaperItem[] = [
        words(LEFT, 11, title.text, title.size, { bold: true }),
        words(LEFT, 16, under.text, under.size),
        ...legend(beside),
        ...set.map(l => words(LEFT, l.y, l.text, l.size, { bold: l.bold })),
      ]
      const barY = 14
      const end = barX + BAR * factors.x
      items.push(line(barX, barY, end, barY, 0.25))
      for (const x of [barX, end]) items.push(line(x, barY - 2, x, barY + 2, 0.25))
      items.push(words((barX + end) / 2, barY - 1.2, barName('X', inch), 2.6, { anchor: 'middle' }))
      const ink = state.good ? BLACK : RED
      const box = { x: barX, y: 18, w: end - barX, h: STAMP }
      const text = fitted(state.text, box.w - 4, 5.2, 3)
      const detail = fitted(state.detail, box.w - 4, 2.8, 1.9)
      items.push(
        rectangle(box, { stroke: ink, width: 0.7 }),
        words(box.x + box.w / 2, box.y + 5.6, text.text, text.size, { bold: true, anchor: 'middle', ink }),
        words(box.x + box.w / 2, box.y + 10, detail.text, detail.size, { anchor: 'middle', ink }),
      )
      return items
    },
  }
}

/** A piece of a stroke as an area: whoever reads the strokes of a strip finds the strip's own only. */
const stroke = (x: number, y: number, w: number, h: number, fill: Ink) => rectangle({ x, y, w, h }, { fill })

const LEGEND_Y = 17.8
const legendBottom = () => LEGEND_Y + 8.6

/** What is drawn on the strips, each with a piece of it. */
function legend(room: number): PaperItem[] {
  const entries: { readonly says: string; readonly draw: (x: number, y: number) => PaperItem[] }[] = [
    {
      says: 'mark: middle of the thick line, to the die’s reference line',
      draw: (x, y) => [stroke(x + 2.8, y, 0.4, 3, BLACK)],
    },
    {
      says: 'stock that goes into the bend; its edge is not a mark',
      draw: (x, y) => [rectangle({ x, y, w: 6, h: 3 }, { fill: PALE })],
    },
    {
      says: 'insertion: the port’s face comes here; not a bend',
      draw: (x, y) =>
        [0, 1.6].flatMap(d => [
          stroke(x + 2.85, y + d, 0.3, 0.8, GREY),
          stroke(x + 2.85, y + d + 1.1, 0.3, 0.2, GREY),
        ]),
    },
    {
      says: 'join: lay the next strip’s head on the same letter',
      draw: (x, y) => [0, 2].map(d => stroke(x + 2.87, y + d, 0.25, 1.1, GREY)),
    },
  ]
  const column = room / 2
  return entries.flatMap(({ says, draw }, i) => {
    const x = LEFT + (i % 2) * column
    const y = LEGEND_Y + Math.floor(i / 2) * 4.2
    const text = fitted(says, column - 9, 2.4, 1.7)
    return [...draw(x, y), words(x + 7.5, y + 2.4, text.text, Math.min(text.size, 2.4))]
  })
}
