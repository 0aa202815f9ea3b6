/** What a file calls nothing. */
export const UNNAMED = 'unnamed'

/** The name as it is shown: control characters become blanks, and a name of blanks only is `unnamed`. */
export function shownName(name: string): string {
  const plain = name.replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ').trim()
  return plain === '' ? UNNAMED : plain.slice(0, 200)
}

/** A name as one piece of a key: what joins keys and ids, and what numbers repeats, is written as `%` and its code. */
const piece = (name: string): string =>
  name.replace(/[%:/#]/g, c => `%${c.charCodeAt(0).toString(16).toUpperCase()}`)

/**
 * Gives each child of one node its key: the parent's key, `/` and the name, with `#2`, `#3` … behind a name that a
 * sibling before it has. Numbering starts anew under every parent, so a part added in one assembly leaves the keys in
 * all others as they are.
 *
 * @param parent the parent's key, or '' at the top of the file.
 */
export function childKeys(parent: string): (name: string) => string {
  const seen = new Map<string, number>()
  return name => {
    const own = piece(name)
    const count = (seen.get(own) ?? 0) + 1
    seen.set(own, count)
    const numbered = count === 1 ? own : `${own}#${count}`
    return parent === '' ? numbered : `${parent}/${numbered}`
  }
}
