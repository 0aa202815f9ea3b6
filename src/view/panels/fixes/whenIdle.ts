/** At the latest after this the work is done, busy or not. Milliseconds. */
const LATEST_MS = 400

/** Does a piece of work when the page has nothing better to do. Gives what calls it off. */
export function whenIdle(work: () => void): () => void {
  if (typeof requestIdleCallback === 'function') {
    const handle = requestIdleCallback(work, { timeout: LATEST_MS })
    return () => cancelIdleCallback(handle)
  }
  const handle = setTimeout(work, 0)
  return () => clearTimeout(handle)
}
