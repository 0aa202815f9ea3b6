import { createStore } from 'zustand/vanilla'

/** A newer version that is fetched and waits for the person's word; null when there is none. */
export const updateStore = createStore<{ readonly waiting: ServiceWorker | null }>()(() => ({
  waiting: null,
}))

/** Keeps the app for offline use and watches for a newer version. Does nothing where the browser cannot. */
export async function startOffline(): Promise<void> {
  if (!('serviceWorker' in navigator)) return
  const hadOne = navigator.serviceWorker.controller !== null
  const registration = await navigator.serviceWorker.register('./serviceWorker.js', { type: 'module' })
  const offer = () => {
    if (registration.waiting && navigator.serviceWorker.controller)
      updateStore.setState({ waiting: registration.waiting })
  }
  offer()
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', offer)
  })
  if (hadOne)
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true })
}

/** Switches to the waiting version: the page loads anew, the document comes back from the journal. */
export const takeUpdate = (): void => updateStore.getState().waiting?.postMessage('takeOver')
