import { tabMemory } from '../../store/browserMemory.ts'
import { sessionStore } from '../../store/sessionStore.ts'

const KEY = 'dogleg-at-the-bench'

/**
 * Opens the bending view when the address asks for it (`?mode=bending`) or this tab was at the bench before a
 * reload, and remembers it for the next one. Gives the function that stops.
 */
export function followMode(): () => void {
  const stop = sessionStore.subscribe((now, before) => {
    if (now.mode === before.mode) return
    if (now.mode === 'bending') tabMemory.keepText(KEY, 'yes')
    else tabMemory.forget(KEY)
  })
  const { mode, set } = sessionStore.getState()
  const asked = new URLSearchParams(location.search).get('mode')
  if (mode === 'layingOut' && (asked === 'bending' || (asked === null && tabMemory.text(KEY) === 'yes')))
    set({ mode: 'bending' })
  return stop
}
