import { savingStore } from './savingStore.ts'

/** Finds out whether the browser has promised to keep what is stored; where it cannot tell, it has not. */
export async function lookForPromise(): Promise<void> {
  const isPromised = await (navigator.storage?.persisted?.() ?? Promise.resolve(false)).catch(() => false)
  savingStore.setState({ isPromised })
}

/** Asks for that promise; a browser may ask the person first, so only ever at a person's wish. @returns whether it gave it. */
export async function askForPromise(): Promise<boolean> {
  const isPromised = await (navigator.storage?.persist?.() ?? Promise.resolve(false)).catch(() => false)
  savingStore.setState({ isPromised })
  return isPromised
}
