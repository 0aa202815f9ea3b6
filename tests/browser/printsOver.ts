import type { Page } from 'playwright-core'

/**
 * What of the words in `selector` prints over other words, runs out of the window sideways, or does not fit its own
 * field; a sentence each. What a scrolled list hides is not seen, and so not counted.
 */
export const printsOver = (page: Page, selector: string): Promise<string[]> =>
  page.evaluate(within => {
    interface Word {
      readonly text: string
      readonly box: DOMRect
    }
    const root = document.querySelector(within)
    if (!root) return [`nothing is ${within}`]
    const seen = (element: Element, box: DOMRect): DOMRect | null => {
      let { left, right, top, bottom } = box
      for (let up: Element | null = element; up; up = up.parentElement) {
        const { overflowX, overflowY, position, visibility, opacity } = getComputedStyle(up)
        if (visibility === 'hidden' || opacity === '0') return null
        const clip = up.getBoundingClientRect()
        if (up !== element && overflowX !== 'visible') {
          left = Math.max(left, clip.left)
          right = Math.min(right, clip.right)
        }
        if (up !== element && overflowY !== 'visible') {
          top = Math.max(top, clip.top)
          bottom = Math.min(bottom, clip.bottom)
        }
        if (position === 'fixed') break
      }
      return right - left > 1 && bottom - top > 1 ? new DOMRect(left, top, right - left, bottom - top) : null
    }
    const words: Word[] = []
    const told: string[] = []
    const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT)
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const text = node.textContent?.trim() ?? ''
      const parent = node.parentElement
      if (text === '' || !parent || parent.closest('.hidden-label, title, option, style')) continue
      const range = document.createRange()
      range.selectNodeContents(node)
      for (const line of range.getClientRects()) {
        // The line's box is taller than its letters.
        const letters = new DOMRect(line.left, line.top + line.height * 0.18, line.width, line.height * 0.64)
        const box = seen(parent, letters)
        if (!box) continue
        const scrolls = parent.closest('.tableScroll')
        if (!scrolls && (letters.left < -1 || letters.right > innerWidth + 1))
          told.push(
            `“${text}” runs out of the window: ${Math.round(letters.left)} to ${Math.round(letters.right)}`,
          )
        words.push({ text, box })
      }
    }
    for (const [i, a] of words.entries())
      for (const b of words.slice(i + 1)) {
        const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left)
        const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top)
        if (wide > 2 && high > 2) told.push(`“${a.text}” prints over “${b.text}”`)
      }
    for (const input of root.querySelectorAll('input'))
      if (input.scrollWidth > input.clientWidth + 1 && input.value !== '')
        told.push(`“${input.value}” does not fit its field`)
    return [...new Set(told)]
  }, selector)
