import { browserMemory } from './browserMemory.ts'
import { type SessionState, sessionStore } from './sessionStore.ts'

const KEY = 'dogleg-preferences'

interface Preferences {
  readonly unit: SessionState['unit']
  readonly theme: SessionState['theme']
  readonly projection: SessionState['projection']
  readonly showRoute: boolean
  readonly singleKeys: boolean
  readonly hintRead: boolean
}

const ALLOWED = {
  unit: ['mm', 'in', 'fraction'],
  theme: ['system', 'light', 'dark'],
  projection: ['perspective', 'orthographic'],
  showRoute: [true, false],
  singleKeys: [true, false],
  hintRead: [true, false],
} as const satisfies { readonly [K in keyof Preferences]: readonly Preferences[K][] }

/** What the browser kept of the user's preferences; unknown or damaged entries are left out. Never throws. */
export function readPreferences(): Partial<Preferences> {
  const kept = browserMemory.value(KEY)
  if (typeof kept !== 'object' || kept === null) return {}
  const entries = Object.entries(kept).filter(([name, value]) =>
    ((ALLOWED as Record<string, readonly unknown[]>)[name] ?? []).includes(value),
  )
  return Object.fromEntries(entries) as Partial<Preferences>
}

/** Adds to the kept preferences. Where the browser refuses storage they last as long as the page. */
export function keepPreferences(patch: Partial<Preferences>): void {
  // A preference is not worth a word: the autosave says when storage is refused.
  browserMemory.keep(KEY, { ...readPreferences(), ...patch })
}

/** Takes the kept preferences over into the session and keeps later changes. Gives the function that stops. */
export function followPreferences(): () => void {
  const { unit, theme, projection, showRoute } = readPreferences()
  sessionStore.getState().set({
    ...(unit && { unit }),
    ...(theme && { theme }),
    ...(projection && { projection }),
    ...(showRoute !== undefined && { showRoute }),
  })
  return sessionStore.subscribe((now, before) => {
    if (
      now.unit !== before.unit ||
      now.theme !== before.theme ||
      now.projection !== before.projection ||
      now.showRoute !== before.showRoute
    )
      keepPreferences({
        unit: now.unit,
        theme: now.theme,
        projection: now.projection,
        showRoute: now.showRoute,
      })
  })
}
