import { type Box, GREY, line, type PaperItem, rectangle, words } from './paper.ts'
import { textWidth } from './paperFont.ts'

/** The fields that ISO 7200 gives a title block (from memory: legal owner to document type). */
export interface TitleBlock {
  readonly owner: string
  readonly number: string
  readonly title: string
  readonly creator: string
  readonly approver: string
  /** ISO 8601 date of issue. */
  readonly date: string
  readonly revision: string
  readonly documentType: string
}

/** Width by ISO 7200 (from memory), mm. */
export const TITLE_WIDTH = 180
export const TITLE_HEIGHT = 30

/** A text no wider than `width`: set smaller first, then cut with an ellipsis, which is seen. */
export function fitted(
  text: string,
  width: number,
  size: number,
  smallest = 1.9,
): { text: string; size: number } {
  let s = size
  while (s > smallest && textWidth(text, s, true) > width) s -= 0.1
  if (textWidth(text, s, true) <= width) return { text, size: s }
  let n = text.length
  while (n > 1 && textWidth(`${text.slice(0, n)}…`, s, true) > width) n--
  return { text: `${text.slice(0, n)}…`, size: s }
}

/** The title block at the bottom right of the frame; `sheet` is "1 / 2", `units` says how lengths are written. */
export function titleBlock(at: Box, block: TitleBlock, sheet: string, units: string): PaperItem[] {
  const { x, y, w, h } = at
  const rows: readonly (readonly [string, string, number])[][] = [
    [
      ['Legal owner', block.owner, 0.34],
      ['Creator', block.creator, 0.22],
      ['Approved by', block.approver, 0.22],
      ['Date of issue', block.date, 0.22],
    ],
    [
      ['Document type', block.documentType, 0.34],
      ['Title', block.title, 0.66],
    ],
    [
      ['Units', units, 0.34],
      ['Identification number', block.number, 0.38],
      ['Revision', block.revision, 0.12],
      ['Sheet', sheet, 0.16],
    ],
  ]
  const items: PaperItem[] = [rectangle(at, { stroke: [0, 0, 0], width: 0.5 })]
  const rowHeight = h / rows.length
  rows.forEach((row, i) => {
    const top = y + i * rowHeight
    if (i > 0) items.push(line(x, top, x + w, top, 0.25))
    let left = x
    row.forEach(([name, value, share], k) => {
      if (k > 0) items.push(line(left, top, left, top + rowHeight, 0.25))
      items.push(words(left + 1.2, top + 3, name, 2, { ink: GREY }))
      const value_ = fitted(value === '' ? '-' : value, share * w - 2.4, 3.6)
      items.push(words(left + 1.2, top + rowHeight - 2.2, value_.text, value_.size, { bold: true }))
      left += share * w
    })
  })
  return items
}
