import { type Mode, sessionStore } from '../../store/sessionStore.ts'
import { useSession } from '../useStore.ts'

const MODES: readonly { mode: Mode; label: string }[] = [
  { mode: 'layingOut', label: 'Laying out' },
  { mode: 'bending', label: 'Bending' },
  { mode: 'reviewing', label: 'Reviewing' },
]

/** The ways to look at the document that the app has, one of them on. */
export function ModeSwitch({ have }: { have: readonly Mode[] }) {
  const mode = useSession(state => state.mode)
  if (have.length < 2) return null
  return (
    <fieldset className="buttonPair">
      <legend className="hidden-label">Way to look at the skid</legend>
      {MODES.filter(m => have.includes(m.mode)).map(m => (
        <button
          type="button"
          key={m.mode}
          aria-pressed={mode === m.mode}
          onClick={() => sessionStore.getState().set({ mode: m.mode })}
        >
          {m.label}
        </button>
      ))}
    </fieldset>
  )
}
