import { useStore } from 'zustand'
import { clearanceStore } from '../store/clearance.ts'

interface Props {
  /** Before the figure: "Clearance" at the head of a line, "clearance" inside one. */
  readonly lead: 'Clearance' | 'clearance'
  /** Seen while no figure is known; '' for nothing. */
  readonly otherwise: string
  /** What a screen reader is told in the figure's place: it stays the same, so that no figure is read out. */
  readonly spoken: string
}

/** How far the check of clearance is, as "Clearance 34 %", for the eye; one sentence for whoever listens. */
export function ClearanceProgress({ lead, otherwise, spoken }: Props) {
  const percent = useStore(clearanceStore, ({ progress }) =>
    progress && progress.total > 0 ? Math.floor((100 * progress.done) / progress.total) : null,
  )
  return (
    <>
      <span className="number" aria-hidden="true">
        {percent === null ? otherwise : `${lead} ${Math.min(99, percent)} %`}
      </span>
      {spoken && <span className="hidden-label">{spoken}</span>}
    </>
  )
}
