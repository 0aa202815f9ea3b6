import { lazy, Suspense, useState } from 'react'
import { isGapFinding } from '../../checks/mend/gapFinding.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import type { Finding } from '../../findings/finding.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { knownFix } from './fixes/knownFix.ts'
import { useFix } from './fixes/useFix.ts'

const MendPanel = lazy(() => import('../reviewing/MendPanel.tsx'))

interface Props {
  readonly finding: Finding
  readonly unit: LengthUnit
  /** This is the finding of the list that Tab comes to: its own button follows it. */
  readonly tabbable: boolean
}

/** What can be done about a finding: one button where a fix is known, a search for ways where it is a gap. */
export function FindingFix(props: Props) {
  return isGapFinding(props.finding) ? <Ways {...props} /> : <Known {...props} />
}

function Known({ finding, unit, tabbable }: Props) {
  const found = useFix(finding, unit)
  if (!found) return null
  const { fix, isStale } = found
  return (
    // Keeps its place while it is not known, so that the list below it stays.
    <div className={`finding-fix${isStale ? ' stale' : ''}`}>
      <button
        type="button"
        className="small"
        disabled={!fix.ok || isStale}
        tabIndex={tabbable ? 0 : -1}
        onClick={event => {
          const refocus = keepPlace(event.currentTarget)
          const refused = applyEdit(fix.label, settled => {
            const now = knownFix(settled, finding, unit)
            return now?.ok ? now.document : { refused: now?.reason ?? 'Already fixed.' }
          })
          sessionStore.getState().say(refused ?? `${fix.label}: done.`)
          if (!refused) queueMicrotask(refocus)
        }}
      >
        {fix.label}
      </button>
      {!fix.ok && <span className="quiet">{fix.reason}</span>}
    </div>
  )
}

function Ways({ finding, tabbable }: Props) {
  const [isOpen, setOpen] = useState(false)
  return (
    <div className={`finding-fix${isOpen ? ' open' : ''}`}>
      <button
        type="button"
        className="small"
        aria-expanded={isOpen}
        tabIndex={tabbable || isOpen ? 0 : -1}
        onClick={() => setOpen(!isOpen)}
      >
        {isOpen ? 'Close possible fixes' : 'Possible fixes…'}
      </button>
      {isOpen && (
        <Suspense fallback={<p className="quiet">Looking for fixes…</p>}>
          <MendPanel
            finding={finding}
            after={0}
            onTaken={() => {
              const refocus = keepPlace(window.document.activeElement)
              requestAnimationFrame(refocus)
            }}
          />
        </Suspense>
      )}
    </div>
  )
}

/** Remembers which finding of the list this is; gives what moves the focus to the one that is there afterwards. */
function keepPlace(inside: Element | null): () => void {
  const panel = inside?.closest<HTMLElement>('.findings')
  const item = inside?.closest('li.finding') ?? null
  const place = [...(panel?.querySelectorAll('li.finding') ?? [])].findIndex(li => li.isSameNode(item))
  return () => {
    const mains = panel?.querySelectorAll<HTMLElement>('button.finding-main') ?? []
    const at = mains[Math.min(place, mains.length - 1)] ?? panel
    at?.focus()
  }
}
