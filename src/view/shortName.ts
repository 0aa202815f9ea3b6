import { visibleText } from '../document/visibleText.ts'

/** Characters of a name where nothing can cut it to the room there is. */
const MOST = 40
const END = 12

/** A name as it may stand in a picture: nothing hidden in it, a long one cut in its middle. */
export function shortName(name: string): string {
  const letters = Array.from(visibleText(name))
  if (letters.length <= MOST) return letters.join('')
  return `${letters.slice(0, MOST - END - 1).join('')}…${letters.slice(-END).join('')}`
}
