import { type Change, differenceOf } from '../../checks/change.ts'
import { changeValue } from '../../outputs/compareText.ts'
import { useSession } from '../useStore.ts'

/** Every figure that is not what it was: by how much, before and now. */
export function ChangeFigures({ changes }: { readonly changes: readonly Change[] }) {
  const unit = useSession(s => s.unit)
  return (
    <ul className="change-figures">
      {changes.map(change => {
        const { what, before, after } = change
        const by = differenceOf(change)
        return (
          <li key={what}>
            <span>{what}</span>{' '}
            <span className="by">
              {by !== null && `${by > 0 ? '+' : '−'}${changeValue(Math.abs(by), change, unit)}`}
            </span>
            <span className="both">
              {changeValue(before, change, unit)} → {changeValue(after, change, unit)}
            </span>
          </li>
        )
      })}
    </ul>
  )
}
