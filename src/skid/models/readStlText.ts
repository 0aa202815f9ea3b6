import type { ModelNode } from './gatherParts.ts'
import { checkTriangles } from './limits.ts'
import { ModelError } from './modelError.ts'
import type { Tell } from './readOptions.ts'
import { NumberList, numberIn, textLines } from './textLines.ts'

/** The words in the order in which a facet has them, with how many numbers follow. */
const FACET = [
  { words: ['facet', 'normal'], numbers: 3 },
  { words: ['outer', 'loop'], numbers: 0 },
  { words: ['vertex'], numbers: 3 },
  { words: ['vertex'], numbers: 3 },
  { words: ['vertex'], numbers: 3 },
  { words: ['endloop'], numbers: 0 },
  { words: ['endfacet'], numbers: 0 },
] as const
/** The whole of it as single words; null stands for a number. */
const ORDER: readonly (string | null)[] = FACET.flatMap(({ words, numbers }) => [
  ...words,
  ...Array<null>(numbers).fill(null),
])
/** Where in a facet's numbers the corners begin: behind the normal. */
const NORMAL = 3

/** The format has no comments, but programs write them before, between and behind its facets. */
const COMMENT = /^(#|;|\/\/|!)/

/**
 * Reads a text STL: a part for each solid, named as it is, `unnamed` where it has no name.
 *
 * @throws ModelError naming the line, what was found and what was wanted there.
 */
export function readStlText(bytes: Uint8Array, unnamed: string, tell: Tell): ModelNode[] {
  const solids: ModelNode[] = []
  let name: string | null = null
  let corners = new NumberList()
  let facet: number[] = []
  let at = 0
  let triangles = 0
  let number = 0
  const close = () => {
    const positions = corners.view()
    const indices = Uint32Array.from({ length: positions.length / 3 }, (_, i) => i)
    solids.push({ name: name || unnamed, mesh: { positions, indices }, children: [] })
    corners = new NumberList()
    name = null
  }
  const take = (word: string): void => {
    const wanted = ORDER[at]
    if (wanted === null) {
      const value = numberIn(word)
      // A normal may be anything: the corners' order says it again.
      if (Number.isNaN(value) && facet.length >= NORMAL)
        throw new ModelError(`line ${number}: found "${word.slice(0, 40)}"; wanted a finite coordinate`)
      facet.push(value)
    } else if (word.toLowerCase() !== wanted)
      throw new ModelError(`line ${number}: found "${word.slice(0, 40)}"; wanted "${wanted}"`)
    at++
    if (at < ORDER.length) return
    for (let k = NORMAL; k < facet.length; k += 3) corners.push3(facet[k]!, facet[k + 1]!, facet[k + 2]!)
    checkTriangles(`line ${number}`, ++triangles)
    facet = []
    at = 0
  }
  for (const line of textLines(bytes, done => tell('Reading triangles', done))) {
    number++
    const text = line.replace(/^\uFEFF/, '').trim()
    if (text === '' || (at === 0 && COMMENT.test(text))) continue
    const words = text.split(/\s+/)
    for (let i = 0; i < words.length; i++) {
      const word = words[i]!
      if (name === null) {
        if (word.toLowerCase() !== 'solid')
          throw new ModelError(`line ${number}: found "${word.slice(0, 40)}"; wanted "solid"`)
        const facetAt = words.findIndex((w, k) => k > i && w.toLowerCase() === 'facet')
        const end = facetAt < 0 ? words.length : facetAt
        name = words.slice(i + 1, end).join(' ')
        i = end - 1
      } else if (at === 0 && word.toLowerCase() === 'endsolid') {
        close()
        break
      } else take(word)
    }
  }
  if (name !== null)
    throw new ModelError(`line ${number}: found the end of the file; wanted "endsolid": the file is cut off`)
  return solids
}
