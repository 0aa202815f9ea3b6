import { type ReactNode, useState } from 'react'

/** More rows than this are shown a stretch at a time: a table of ten thousand would stall every keystroke. */
const ROWS = 300

/** Which rows of a long table to show, from and up to, and the bar that moves on; null for a short table. */
export function useRowWindow(count: number, what: string): { from: number; to: number; bar: ReactNode } {
  const [wanted, setWanted] = useState(0)
  if (count <= ROWS) return { from: 0, to: count, bar: null }
  const from = Math.max(0, Math.min(wanted, count - 1))
  const to = Math.min(count, from + ROWS)
  const bar = (
    <p className="row-window">
      {what} {from + 1} to {to} of {count}
      <button type="button" disabled={from === 0} onClick={() => setWanted(Math.max(0, from - ROWS))}>
        Earlier
      </button>
      <button type="button" disabled={to === count} onClick={() => setWanted(from + ROWS)}>
        Later
      </button>
    </p>
  )
  return { from, to, bar }
}
