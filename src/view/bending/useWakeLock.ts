import { useEffect, useState } from 'react'

/** Keeps the screen awake while `wanted`; gives whether it does. The browser drops it when the page is hidden, so it is asked for again. */
export function useWakeLock(wanted: boolean): boolean {
  const [awake, setAwake] = useState(false)
  useEffect(() => {
    if (!wanted || !('wakeLock' in navigator)) return
    let lock: WakeLockSentinel | null = null
    let isAsking = false
    let over = false
    const ask = async () => {
      // A second lock while one is held would never be let go.
      if (document.visibilityState !== 'visible' || isAsking || lock?.released === false) return
      isAsking = true
      try {
        const got = await navigator.wakeLock.request('screen')
        if (over) return void got.release()
        lock = got
        setAwake(true)
        got.addEventListener('release', () => setAwake(false))
      } catch {
        // Refused (battery saver, no permission): the view says that the screen may go dark.
        setAwake(false)
      } finally {
        isAsking = false
      }
    }
    void ask()
    document.addEventListener('visibilitychange', ask)
    return () => {
      over = true
      document.removeEventListener('visibilitychange', ask)
      void lock?.release()
    }
  }, [wanted])
  return awake
}
