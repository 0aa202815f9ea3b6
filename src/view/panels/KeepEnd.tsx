import { sessionStore } from '../../store/sessionStore.ts'
import { useSession } from '../useStore.ts'

/** Which end stays put when a straight, an angle or a turn is changed. */
export function KeepEnd() {
  const keep = useSession(state => state.keepEnd)
  return (
    <fieldset className="segments" title="Changing a straight, an angle or a rotation moves the other end">
      <legend className="hidden-label">When a figure changes, keep</legend>
      {(['A', 'B'] as const).map(end => (
        <button
          key={end}
          type="button"
          aria-pressed={keep === end}
          onClick={() => sessionStore.getState().set({ keepEnd: end })}
        >
          End {end} stays
        </button>
      ))}
    </fieldset>
  )
}
