import { formatLength } from '../../document/quantity.ts'
import type { Exemption } from '../../skid/exemptions.ts'
import { useExemptions } from '../scene/useExemptions.ts'
import { useSession } from '../useStore.ts'

/** Which stretches of tube are not measured against which body: those of what is selected that `of` picks. */
export function ExemptList({ of }: { readonly of: (exemption: Exemption) => boolean }) {
  const unit = useSession(s => s.unit)
  const exemptions = useExemptions().filter(of)
  if (exemptions.length === 0) return null
  return (
    <>
      <h3>Not measured</h3>
      <ul className="exempt-list">
        {exemptions.map(e => (
          <li key={`${e.run} ${e.end}`}>
            {e.tag}, first {formatLength(e.length, unit, { withUnit: true })} from end {e.end}, to{' '}
            {e.bodies.map(b => b.name).join(' and ')}
          </li>
        ))}
      </ul>
      <p className="quiet">The port stands on it, and the nut sits here. The rest of the tube is measured.</p>
    </>
  )
}
