import { sessionStore } from '../../store/sessionStore.ts'

const KEY = 'dogleg-at-the-bench'

/**
 * Opens the bending view when the address asks for it (`?mode=bending`) or this tab was at the bench before a
 * reload, and remembers it for the next one. Gives the function that stops.
 */
export function followMode(): () => void {
  const stop = sessionStore.subscribe((now, before) => {
    if (now.mode === before.mode) return
    try {
      if (now.mode === 'bending') sessionStorage.setItem(KEY, 'yes')
      else sessionStorage.removeItem(KEY)
    } catch {
      // Storage refused: after a reload the laying-out view is shown, one press from here.
    }
  })
  const { mode, set } = sessionStore.getState()
  const asked = new URLSearchParams(location.search).get('mode')
  if (mode === 'layingOut' && (asked === 'bending' || (asked === null && wasAtTheBench())))
    set({ mode: 'bending' })
  return stop
}

function wasAtTheBench(): boolean {
  try {
    return sessionStorage.getItem(KEY) === 'yes'
  } catch {
    return false
  }
}
