import { useEffect, useMemo } from 'react'
import { useStore } from 'zustand'
import { compareStore, type ShownVersion } from '../../store/compareStore.ts'
import { showVersion, stopComparing } from '../../store/comparing.ts'
import { differencesOf, differentRuns } from '../../store/differences.ts'
import { useDocument } from '../useStore.ts'

const CHOICES: readonly { show: ShownVersion; label: string; how?: string }[] = [
  { show: 'earlier', label: 'Earlier', how: ', dashed' },
  { show: 'both', label: 'Both' },
  { show: 'now', label: 'Now', how: ', solid' },
]

/** Above the picture while two versions are compared: what is which, which of them is drawn, and the end of it. */
export function CompareStrip() {
  const earlier = useStore(compareStore, s => s.earlier)
  const show = useStore(compareStore, s => s.show)
  const document = useDocument(s => s.settled)
  const different = useMemo(
    () => (earlier ? differentRuns(differencesOf(earlier.document, document)) : []),
    [earlier, document],
  )
  // An edit may make further runs differ, or fewer.
  useEffect(() => {
    const { show } = compareStore.getState()
    if (show === 'earlier') showVersion(show, different)
  }, [different])
  // Elsewhere nothing tells that runs are hidden for the comparison.
  useEffect(() => () => showVersion('both', []), [])
  if (!earlier) return null
  return (
    <div className="compare-strip">
      <p>
        Compared with <b title={earlier.name}>{earlier.name}</b>
      </p>
      <button type="button" onClick={stopComparing}>
        Stop comparing
      </button>
      <fieldset>
        <legend className="hidden-label">Drawn where the versions differ</legend>
        {CHOICES.map(c => (
          <label key={c.show}>
            <input
              type="radio"
              name="shown-version"
              checked={show === c.show}
              onChange={() => showVersion(c.show, different)}
            />
            {c.show !== 'both' && <Swatch of={c.show} />}
            {c.label}
            {c.how && <span className="hidden-label">{c.how}</span>}
          </label>
        ))}
      </fieldset>
    </div>
  )
}

const Swatch = ({ of }: { readonly of: 'earlier' | 'now' }) => (
  <svg width="26" height="12" viewBox="0 0 26 12" aria-hidden="true">
    {of === 'earlier' ? (
      <>
        <rect x="0" y="1" width="26" height="10" fill="currentColor" opacity="0.2" />
        <path d="M0 2h26M0 10h26" stroke="currentColor" strokeWidth="1.5" strokeDasharray="5 3.5" />
      </>
    ) : (
      <>
        <rect x="0" y="1" width="26" height="10" fill="var(--tube)" />
        <path d="M0 2h26M0 10h26" stroke="currentColor" strokeWidth="1.5" />
      </>
    )}
  </svg>
)
