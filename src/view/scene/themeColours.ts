import { Color } from 'three'
import { GROUP_COLOURS } from '../colouring/groups.ts'

const NAMES = [
  'tube',
  'tube-bend',
  'select',
  'accent',
  'error',
  'ink',
  'ink-2',
  'ink-3',
  'note',
  'warning',
  'grid',
  'grid-strong',
  'line-strong',
  'panel',
  ...GROUP_COLOURS,
] as const
export type ThemeColours = Readonly<Record<(typeof NAMES)[number], Color>>

/** The theme's colours as the style sheet has them now. */
export function readTheme(): ThemeColours {
  const style = getComputedStyle(document.documentElement)
  return Object.fromEntries(
    NAMES.map(name => [name, new Color().setStyle(style.getPropertyValue(`--${name}`).trim() || '#888888')]),
  ) as ThemeColours
}

/** Calls back when the theme may have changed: the root's attribute, the system's scheme or its contrast. */
export function watchTheme(changed: () => void): () => void {
  const observer = new MutationObserver(changed)
  observer.observe(document.documentElement, {
    attributes: true,
    attributeFilter: ['data-theme', 'class', 'style'],
  })
  const queries = ['(prefers-color-scheme: dark)', '(prefers-contrast: more)'].map(q => matchMedia(q))
  for (const q of queries) q.addEventListener('change', changed)
  return () => {
    observer.disconnect()
    for (const q of queries) q.removeEventListener('change', changed)
  }
}
