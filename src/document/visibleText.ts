/*
 * Characters that are no part of a name but move, hide or reorder what stands round them: controls, the overrides,
 * isolates and marks of writing direction, separators of lines, and characters without width that join nothing.
 */
const HIDDEN =
  '\\u0000-\\u001f\\u007f-\\u009f\\u061c\\u180e\\u200b\\u200e\\u200f\\u2028-\\u202e\\u2060-\\u206f\\ufeff\\ufff9-\\ufffb\\u{e0000}-\\u{e007f}'
const ANY = new RegExp(`[${HIDDEN}]|\\p{Surrogate}`, 'gu')
const ANY_BUT_LINES = new RegExp(`(?!\\r\\n|[\\t\\n])(?:[${HIDDEN}]|\\p{Surrogate})`, 'gu')

/** The text on one line, with every character to be seen that would change how it is read: ␛ for escape, [U+202E]. */
export const visibleText = (text: string): string => text.replace(ANY, shown)

/** The same, but lines and tabs stay what they are. */
export const visibleLines = (text: string): string => text.replace(ANY_BUT_LINES, shown)

/** As escapes inside a JSON text: another spelling of the same value. Its own lines stay. */
export const escapedInJson = (json: string): string =>
  json.replace(ANY_BUT_LINES, found =>
    Array.from(
      { length: found.length },
      (_, i) => `\\u${found.charCodeAt(i).toString(16).padStart(4, '0')}`,
    ).join(''),
  )

function shown(found: string): string {
  const code = found.codePointAt(0)!
  if (code < 0x20) return String.fromCodePoint(0x2400 + code)
  if (code === 0x7f) return '␡'
  return `[U+${code.toString(16).toUpperCase().padStart(4, '0')}]`
}
