/** Where the focus may stay when what had it has gone. */
const REGION = 'section[aria-label], dialog, main, [role="dialog"]'

/**
 * Keeps the keyboard's place: when what has the focus leaves the page, the focus goes to the region that it was in, or
 * to the view's heading where that is gone too, and never to the page as a whole. Gives what stops it.
 */
export function keepFocus(): () => void {
  let way: readonly Element[] = []
  let due = 0
  /** The focus is on its way from one thing to another: nothing has it for a moment. */
  let isMoving = false
  const onFocus = ({ target }: FocusEvent) => {
    isMoving = false
    const chain: Element[] = []
    for (let e = target instanceof Element ? target : null; e; e = e.parentElement) chain.push(e)
    way = chain
  }
  const check = () => {
    const { activeElement, body } = document
    const [lost] = way
    if (!lost || lost.isConnected || (activeElement && activeElement !== body)) return
    const region = way.find(e => e.isConnected && e.matches(REGION))
    const place = region ?? document.querySelector('.view-title')
    if (!(place instanceof HTMLElement)) return
    if (!place.hasAttribute('tabindex')) place.tabIndex = -1
    place.focus({ preventScroll: true })
  }
  const onLeave = ({ relatedTarget }: FocusEvent) => {
    isMoving = relatedTarget !== null
  }
  const later = () => {
    const [lost] = way
    if (!lost || lost.isConnected) return
    clearTimeout(due)
    if (isMoving) due = window.setTimeout(check)
    else check()
  }
  const observer = new MutationObserver(later)
  observer.observe(document.body, { childList: true, subtree: true })
  window.addEventListener('focusin', onFocus)
  window.addEventListener('focusout', onLeave)
  return () => {
    clearTimeout(due)
    observer.disconnect()
    window.removeEventListener('focusin', onFocus)
    window.removeEventListener('focusout', onLeave)
  }
}
