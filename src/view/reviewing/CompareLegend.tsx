import { useEffect, useMemo } from 'react'
import { useStore } from 'zustand'
import { compareDocuments } from '../../checks/compareDocuments.ts'
import { compareStore, type ShownVersion } from '../../store/compareStore.ts'
import { showVersion } from '../../store/comparing.ts'
import { useDocument } from '../useStore.ts'

const CHOICES: readonly { show: ShownVersion; label: string }[] = [
  { show: 'earlier', label: 'Earlier' },
  { show: 'both', label: 'Both' },
  { show: 'now', label: 'Now' },
]

/** What is which when two versions are drawn over each other, and which of them is drawn. */
export function CompareLegend() {
  const earlier = useStore(compareStore, s => s.earlier)
  const show = useStore(compareStore, s => s.show)
  const document = useDocument(s => s.settled)
  const different = useMemo(() => {
    if (!earlier) return []
    const { added, changed } = compareDocuments(earlier.document, document)
    return [...added.map(r => r.id), ...changed.map(c => c.runId)]
  }, [earlier, document])
  // Elsewhere nothing tells that runs are hidden for the comparison.
  useEffect(() => () => showVersion('both', []), [])
  if (!earlier) return null
  return (
    <fieldset className="compare-legend">
      <legend>Drawn: where the versions differ</legend>
      <p>
        <svg width="34" height="12" viewBox="0 0 34 12" aria-hidden="true">
          <rect x="0" y="1" width="34" height="10" fill="currentColor" opacity="0.2" />
          <path d="M0 6h34" stroke="currentColor" strokeWidth="2" strokeDasharray="5 3.5" />
        </svg>
        earlier: see-through, dashed
      </p>
      <p>
        <svg width="34" height="12" viewBox="0 0 34 12" aria-hidden="true">
          <rect x="0.5" y="1" width="33" height="10" fill="var(--tube)" stroke="currentColor" />
        </svg>
        now: solid
      </p>
      <div className="compare-choices">
        {CHOICES.map(c => (
          <label key={c.show}>
            <input
              type="radio"
              name="shown-version"
              checked={show === c.show}
              onChange={() => showVersion(c.show, different)}
            />
            {c.label}
          </label>
        ))}
      </div>
    </fieldset>
  )
}
