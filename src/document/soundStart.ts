/** The sound beginning of a text that is not JSON as a whole. */
export interface SoundStart {
  readonly value: unknown
  /** Of the text, in characters, that the value was read from. */
  readonly length: number
}

/** Behind a whole entry of a list or object, and what closes all that is open there. */
interface Stop {
  readonly end: number
  readonly closers: string
}

/** Stops that are tried, the last ones first: junk may look like an entry or two. */
const TRIES = 40

/**
 * Reads as many whole entries from the beginning of a text as make good JSON once what is open is closed: of a file that
 * was cut off, or spoilt from some place on. An entry is a whole object or list inside another one.
 *
 * @returns null when not even the first entry is whole.
 */
export function soundStart(text: string): SoundStart | null {
  const stops = stopsIn(text)
  for (let i = stops.length - 1; i >= Math.max(0, stops.length - TRIES); i--) {
    const { end, closers } = stops[i]!
    try {
      return { value: JSON.parse(text.slice(0, end) + closers), length: end }
    } catch {
      // The fault lies before this stop.
    }
  }
  return halved(text, stops)
}

/** The last stop that reads, found by halving: whatever reads up to a stop reads up to every earlier one. */
function halved(text: string, stops: readonly Stop[]): SoundStart | null {
  let [good, bad] = [-1, stops.length]
  let found: SoundStart | null = null
  while (bad - good > 1) {
    const middle = (good + bad) >> 1
    const { end, closers } = stops[middle]!
    try {
      found = { value: JSON.parse(text.slice(0, end) + closers), length: end }
      good = middle
    } catch {
      bad = middle
    }
  }
  return found
}

function stopsIn(text: string): Stop[] {
  const stops: Stop[] = []
  const open: string[] = []
  for (let i = 0; i < text.length; i++) {
    const c = text[i]!
    if (c === '"') {
      for (i++; i < text.length && text[i] !== '"'; i++) if (text[i] === '\\') i++
    } else if (c === '{') open.push('}')
    else if (c === '[') open.push(']')
    else if (c === '}' || c === ']') {
      if (open.pop() !== c) break
      // Inside an entry a half would be left: only entries of the document's own lists and its own fields end whole.
      if (open.length === 1 || open.length === 2)
        stops.push({ end: i + 1, closers: [...open].reverse().join('') })
    }
  }
  return stops
}
