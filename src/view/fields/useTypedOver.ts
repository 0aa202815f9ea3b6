import { type RefObject, useLayoutEffect, useRef } from 'react'

/**
 * For a field whose text appears as it takes the focus: `onFocus` has all of it selected before the next key can arrive,
 * so that what is typed first replaces the figure.
 *
 * @param text what the input holds; null while nothing is being typed.
 */
export function useTypedOver(text: string | null): {
  readonly input: RefObject<HTMLInputElement | null>
  readonly onFocus: () => void
} {
  const input = useRef<HTMLInputElement>(null)
  const selectAll = useRef(false)
  useLayoutEffect(() => {
    if (!selectAll.current || text === null) return
    if (document.activeElement === input.current) input.current?.select()
    selectAll.current = false
  })
  return {
    input,
    onFocus: () => {
      selectAll.current = true
    },
  }
}
