import { useOneStop } from '../useOneStop.ts'
import { useSession } from '../useStore.ts'
import { showMode } from './commands.ts'
import { MODES } from './modes.ts'

/** Three ways to look at the same document. */
export function ModeSwitch() {
  const mode = useSession(state => state.mode)
  const stop = useOneStop<HTMLElement>()
  return (
    <nav className="modes" aria-label="Modes" {...stop}>
      {MODES.map(m => (
        <button
          type="button"
          key={m.mode}
          aria-pressed={mode === m.mode}
          title={`${m.title} (${m.keys})`}
          onClick={() => showMode(m.mode)}
        >
          {m.label}
        </button>
      ))}
    </nav>
  )
}
