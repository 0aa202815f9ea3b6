import { type FocusEvent, type KeyboardEvent, useState } from 'react'

export interface GridCell {
  readonly tabIndex: 0 | -1
  readonly 'data-row': number
  readonly 'data-col': number
}

export interface Grid {
  /** Attributes of the cell at a row and column, both from 0. */
  cell(row: number, col: number): GridCell
  readonly events: {
    onFocus(event: FocusEvent<HTMLElement>): void
    onKeyDown(event: KeyboardEvent<HTMLElement>): void
  }
}

/** One tab stop for a whole table: arrows walk from cell to cell, Home and End to the ends of the row. */
export function useGrid(rows: number, startCol = 0): Grid {
  const [at, setAt] = useState({ row: 0, col: startCol })
  const row = Math.max(0, Math.min(at.row, rows - 1))
  return {
    cell: (r, c) => ({ tabIndex: r === row && c === at.col ? 0 : -1, 'data-row': r, 'data-col': c }),
    events: {
      onFocus(event) {
        // A control inside a cell is a tab stop of its own: the table's must stay where Tab comes to it next.
        const place = event.target.hasAttribute('data-row') ? placeOf(event.target) : null
        if (place && (place.row !== at.row || place.col !== at.col)) setAt(place)
      },
      onKeyDown(event) {
        if (!(event.target instanceof HTMLElement) || !event.target.hasAttribute('data-row')) {
          if (event.key === 'Escape') cellOf(event.target)?.focus()
          return
        }
        if (event.ctrlKey || event.metaKey || event.altKey) return
        const place = placeOf(event.target)
        if (!place) return
        const inside = event.key === 'Enter' && event.target.querySelector<HTMLElement>('select')
        if (inside) {
          event.preventDefault()
          inside.focus()
          return
        }
        const to = walk(event.key, place, event.currentTarget)
        if (!to) return
        event.preventDefault()
        to.focus()
      },
    },
  }
}

const cellOf = (target: EventTarget): HTMLElement | null =>
  target instanceof Element ? target.closest<HTMLElement>('[data-row]') : null

export function placeOf(target: EventTarget): { row: number; col: number } | null {
  const cell = cellOf(target)
  return cell
    ? { row: Number(cell.getAttribute('data-row')), col: Number(cell.getAttribute('data-col')) }
    : null
}

/** Null also for a cell that a narrow panel hides. */
function find(grid: Element, row: number, col: number): HTMLElement | null {
  const cell = grid.querySelector<HTMLElement>(`[data-row="${row}"][data-col="${col}"]`)
  return cell && cell.offsetParent !== null ? cell : null
}

function walk(key: string, { row, col }: { row: number; col: number }, grid: Element): HTMLElement | null {
  if (key === 'ArrowLeft' || key === 'ArrowRight') {
    const by = key === 'ArrowLeft' ? -1 : 1
    for (let c = col + by; c >= 0 && c < 20; c += by) {
      const cell = find(grid, row, c)
      if (cell) return cell
    }
    return null
  }
  if (key === 'ArrowUp' || key === 'ArrowDown') {
    const by = key === 'ArrowUp' ? -1 : 1
    for (let r = row + by; r >= 0 && grid.querySelector(`[data-row="${r}"]`); r += by) {
      const cell = find(grid, r, col)
      if (cell) return cell
    }
    return null
  }
  const inRow = [...grid.querySelectorAll<HTMLElement>(`[data-row="${row}"]`)]
  if (key === 'Home') return inRow[0] ?? null
  if (key === 'End') return inRow.at(-1) ?? null
  return null
}

/** Moves the focus to a cell, or to the last row's when there are fewer rows now. */
export function focusCell(grid: Element, row: number, col: number): void {
  for (let r = row; r >= 0; r--) {
    const cell = find(grid, r, col)
    if (!cell) continue
    cell.focus()
    return
  }
}

/** The next cell that takes typing, in reading order; for Tab while typing. */
export function nextEditable(cell: HTMLElement, back: boolean): HTMLElement | null {
  const all = [...(cell.closest('[role="grid"]')?.querySelectorAll<HTMLElement>('[data-editable]') ?? [])]
  return all[all.indexOf(cell) + (back ? -1 : 1)] ?? null
}
