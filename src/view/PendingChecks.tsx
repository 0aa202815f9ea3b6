import { useStore } from 'zustand'
import { clearanceStore } from '../store/clearance.ts'
import type { Findings } from '../store/findings.ts'

/**
 * What has no answer yet, as "not checked yet: clearance (34 % done), bender of 3 runs"; nothing when every check has one. For
 * whoever listens it stays one sentence, so that no figure is read out.
 */
export function PendingChecks({ pending }: Pick<Findings, 'pending'>) {
  const percent = useStore(clearanceStore, ({ progress }) =>
    progress && progress.total > 0 ? Math.floor((100 * progress.done) / progress.total) : null,
  )
  const { clearance, runs } = pending
  if (!clearance && runs === 0) return null
  const words = [
    clearance && (percent === null ? 'clearance' : `clearance (${Math.min(99, percent)} % done)`),
    runs > 0 && `bender of ${runs} ${runs === 1 ? 'run' : 'runs'}`,
  ]
  return (
    <>
      <span className="number" aria-hidden="true">
        not checked yet: {words.filter(Boolean).join(', ')}
      </span>
      <span className="hidden-label">not all is checked yet</span>
    </>
  )
}
