import { type RefObject, useLayoutEffect, useState } from 'react'

/** Rows beyond the picture's edge that are there already when a list is scrolled. */
const BEYOND = 8
/** Lists up to this long have all their rows in the page. */
const ALL = 60

/** Which rows of a scrolled list, all of one height (px), are in the page: from and up to. */
export function useRowsInView(
  box: RefObject<HTMLElement | null>,
  count: number,
  height: number,
): { readonly from: number; readonly to: number } {
  const [seen, setSeen] = useState({ from: 0, to: 40 })
  useLayoutEffect(() => {
    const list = box.current
    if (!list || count <= ALL) return
    const look = () => {
      const from = Math.max(0, Math.floor(list.scrollTop / height) - BEYOND)
      const to = Math.ceil((list.scrollTop + list.clientHeight) / height) + BEYOND
      setSeen(before => (before.from === from && before.to === to ? before : { from, to }))
    }
    look()
    list.addEventListener('scroll', look, { passive: true })
    const observer = new ResizeObserver(look)
    observer.observe(list)
    return () => {
      list.removeEventListener('scroll', look)
      observer.disconnect()
    }
  }, [box, count, height])
  return count <= ALL
    ? { from: 0, to: count }
    : { from: Math.min(seen.from, count), to: Math.min(seen.to, count) }
}

/** Scrolls as little as it takes to have the row (from 0, of one height, px) wholly in sight. */
export function scrollToRow(list: HTMLElement, row: number, height: number): void {
  const top = row * height
  if (top < list.scrollTop) list.scrollTop = top
  else if (top + height > list.scrollTop + list.clientHeight)
    list.scrollTop = top + height - list.clientHeight
}
