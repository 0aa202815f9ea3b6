import type { Group } from './groups.ts'

/** Heights of a finding's row and of a group's title, px; the style sheet gives each exactly that. */
export const ROW_PX = 52
export const TITLE_PX = 30

/** A group's place in the list. */
export interface PlacedGroup {
  readonly group: Group
  /** From the list's top, px. */
  readonly top: number
  readonly height: number
  /** Of its first finding, among all of the list. */
  readonly first: number
}

/** A list up to this long is in the page whole: the browser's own search then finds every row. */
const WHOLE = 150
/** Rows beyond the window's edges, so that a turn of the wheel meets no blank. */
const BEYOND_PX = 6 * ROW_PX

/** Where each group stands, and how high all of them are, px. */
export function placeGroups(groups: readonly Group[]): { placed: readonly PlacedGroup[]; height: number } {
  let [top, first] = [0, 0]
  const placed = groups.map(group => {
    const height = TITLE_PX + group.items.length * ROW_PX
    const here = { group, top, height, first }
    top += height
    first += group.items.length
    return here
  })
  return { placed, height: top }
}

/** Top of a finding's row, px from the list's top; null when there is no such finding. */
export function topOfRow(placed: readonly PlacedGroup[], index: number): number | null {
  const home = placed.find(p => index >= p.first && index < p.first + p.group.items.length)
  return home ? home.top + TITLE_PX + (index - home.first) * ROW_PX : null
}

/**
 * Which rows are to be in the page: by group, indices among all findings in order. Those in the window, and `keep`
 * (the row that the Tab key comes to) wherever it is. Groups without any are left out.
 */
export function rowsInWindow(
  placed: readonly PlacedGroup[],
  window: { readonly top: number; readonly height: number },
  keep: number,
): readonly { readonly placed: PlacedGroup; readonly rows: readonly number[] }[] {
  const last = placed.at(-1)
  const count = last ? last.first + last.group.items.length : 0
  const whole = count <= WHOLE
  const [low, high] = [window.top - BEYOND_PX, window.top + window.height + BEYOND_PX]
  return placed.flatMap(p => {
    const { length } = p.group.items
    const rowAt = (y: number) => Math.min(length, Math.max(0, Math.floor((y - p.top - TITLE_PX) / ROW_PX)))
    const seen = whole || (p.top < high && p.top + p.height > low)
    const from = whole ? 0 : rowAt(low)
    const to = whole ? length : seen ? rowAt(high + ROW_PX) : from
    const rows = seen ? Array.from({ length: Math.max(0, to - from) }, (_, i) => p.first + from + i) : []
    const keptHere = keep >= p.first && keep < p.first + length
    if (keptHere && !rows.includes(keep)) {
      if (rows.length > 0 && keep < rows[0]!) rows.unshift(keep)
      else rows.push(keep)
    }
    return rows.length > 0 ? [{ placed: p, rows }] : []
  })
}
