import { ModelError } from './modelError.ts'

const CHUNK = 1 << 20
/** Longest line of a text file, characters. */
export const LONGEST = 1_000_000

/**
 * The lines of a text file, without their ends, decoded a megabyte at a time so that the whole text is never held.
 *
 * @param tell called once a chunk with the share that is read, 0 … 1.
 * @throws ModelError naming the line that is longer than a million characters.
 */
export function* textLines(bytes: Uint8Array, tell: (done: number) => void): Generator<string> {
  const decoder = new TextDecoder('utf-8')
  let rest = ''
  let line = 0
  for (let at = 0; at < bytes.length; at += CHUNK) {
    tell(at / bytes.length)
    const chunk = bytes.subarray(at, at + CHUNK)
    const lines = (rest + decoder.decode(chunk, { stream: true })).split(/\r\n|\n|\r(?!$)/)
    rest = lines.pop()!
    if (rest.length > LONGEST)
      throw new ModelError(
        `line ${line + lines.length + 1}: found more than ${LONGEST} characters; wanted a text`,
      )
    line += lines.length
    yield* lines
  }
  const last = rest + decoder.decode()
  if (last !== '') yield* last.split('\r')
}

/** The number, or NaN when the word is none: hexadecimal, empty and endless ones are none. */
export function numberIn(word: string): number {
  const second = word.charCodeAt(1) | 32
  if (second === 120 || second === 111 || second === 98) return Number.NaN
  const value = word === '' ? Number.NaN : Number(word)
  return Number.isFinite(value) ? value : Number.NaN
}

/** Numbers that become more: a list that stays packed. */
export class NumberList {
  length = 0
  private room = new Float64Array(3072)

  push3(x: number, y: number, z: number): void {
    if (this.length + 3 > this.room.length) {
      const more = new Float64Array(2 * this.room.length)
      more.set(this.room)
      this.room = more
    }
    this.room[this.length] = x
    this.room[this.length + 1] = y
    this.room[this.length + 2] = z
    this.length += 3
  }
  at(i: number): number {
    return this.room[i]!
  }
  /** The room of the numbers, behind them zeros; not to be used after another push. */
  get all(): Float64Array {
    return this.room
  }
  /** The numbers themselves; not to be used after another push. */
  view(): Float64Array {
    return this.room.subarray(0, this.length)
  }
}

/** Whole numbers from 0 that become more: a list that stays packed. */
export class PlaceList {
  length = 0
  private room = new Uint32Array(3072)

  push(place: number): void {
    if (this.length === this.room.length) {
      const more = new Uint32Array(2 * this.room.length)
      more.set(this.room)
      this.room = more
    }
    this.room[this.length++] = place
  }
  /** The numbers themselves; not to be used after another push. */
  view(): Uint32Array {
    return this.room.subarray(0, this.length)
  }
}
