import { type FocusEvent, type KeyboardEvent, type RefObject, useLayoutEffect, useRef } from 'react'

/** What Tab would stop at one by one: fields keep a stop of their own, for arrow keys are theirs. */
const STOPS = 'button:not(:disabled)'
const NEXT = ['ArrowRight', 'ArrowDown']
const BEFORE = ['ArrowLeft', 'ArrowUp']

interface OneStop<E extends HTMLElement> {
  readonly ref: RefObject<E | null>
  onKeyDown(event: KeyboardEvent<E>): void
  onFocus(event: FocusEvent<E>): void
}

/**
 * Makes the buttons of a toolbar or list one tab stop: the one that last had the focus, else the pressed or first one.
 * Arrow keys, Home and End go from button to button. Buttons that come and go are taken up as they do.
 */
export function useOneStop<E extends HTMLElement>(): OneStop<E> {
  const ref = useRef<E>(null)
  const last = useRef<Element | null>(null)
  const buttons = () => [...(ref.current?.querySelectorAll<HTMLElement>(STOPS) ?? [])]
  const settle = () => {
    const all = buttons()
    const stop =
      all.find(b => b === last.current) ??
      all.find(b => b.matches('[aria-pressed="true"], [aria-selected="true"], [aria-current="true"]')) ??
      all[0]
    for (const b of all) {
      const tabIndex = b === stop ? 0 : -1
      if (b.tabIndex !== tabIndex) b.tabIndex = tabIndex
    }
  }
  useLayoutEffect(() => {
    const box = ref.current
    if (!box) return
    settle()
    const observer = new MutationObserver(settle)
    observer.observe(box, { childList: true, subtree: true, attributes: true, attributeFilter: ['disabled'] })
    return () => observer.disconnect()
  })
  return {
    ref,
    onFocus(event) {
      if (!event.target.matches(STOPS)) return
      last.current = event.target
      settle()
    },
    onKeyDown(event) {
      if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey || event.defaultPrevented) return
      const all = buttons()
      const at = all.indexOf(event.target as HTMLElement)
      if (at < 0) return
      const to = NEXT.includes(event.key)
        ? at + 1
        : BEFORE.includes(event.key)
          ? at - 1
          : event.key === 'Home'
            ? 0
            : event.key === 'End'
              ? all.length - 1
              : null
      if (to === null) return
      event.preventDefault()
      event.stopPropagation()
      all[(to + all.length) % all.length]?.focus()
    },
  }
}
