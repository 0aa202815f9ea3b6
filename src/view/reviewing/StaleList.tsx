import type { Acceptance } from '../../document/types.ts'
import { documentStore } from '../../store/documentStore.ts'

/** Acceptances whose finding is gone: shown until somebody removes them on purpose. */
export function StaleList({ stale }: { readonly stale: readonly Acceptance[] }) {
  if (stale.length === 0) return null
  return (
    <section className="review-stale" aria-label="Stale acceptances">
      <h3>
        Accepted earlier; the finding no longer occurs <span className="quiet">{stale.length}</span>
      </h3>
      <ul>
        {stale.map(a => (
          <li key={a.finding}>
            <span>
              {a.finding.split(':')[0]}: {a.reason}{' '}
              <span className="quiet">
                {a.by}, {a.on}
              </span>
            </span>
            <button type="button" onClick={() => remove(a)}>
              Remove
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}

function remove(acceptance: Acceptance) {
  documentStore.getState().apply('Remove stale acceptance', d => ({
    ...d,
    acceptances: d.acceptances.filter(a => a !== acceptance),
  }))
}
