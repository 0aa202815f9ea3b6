import { describe, expect, test } from 'vitest'
import { ByteWords } from '../../../src/skid/models/byteWords.ts'
import { numberIn } from '../../../src/skid/models/textLines.ts'
import { isPlainQuad, triangulate } from '../../../src/skid/models/triangulate.ts'
import { seeded } from '../../random.ts'
import { cornersOf, readHere, refusal } from './readHere.ts'

const FACET =
  'facet normal 0 0 1\n outer loop\n  vertex 0 0 0\n  vertex 1 0 0\n  vertex 0 1 0\n endloop\nendfacet\n'
const STL = `solid a\n${FACET}endsolid a\n`

describe('a text STL with comments', () => {
  test.each(['# made by hand', '; made by hand', '// made by hand', '# solid # # # facet #'])(
    'is read: %s',
    async comment => {
      const text = `${comment}\n\n${comment}\n${STL.replace('facet', `${comment}\nfacet`)}${comment}\n`
      for (const name of ['a.stl', 'no-ending'])
        expect((await readHere(text, name)).parts.map(p => cornersOf(p).length)).toEqual([9])
    },
  )
  test('a text that is no STL is refused by its first line, and no triangles are counted in it', async () => {
    const text = `Export of the skid, revision B\n${'words and words and words\n'.repeat(20)}`
    expect(await refusal(text, 'a.stl')).toBe('line 1: found "Export"; wanted "solid"')
    expect(await refusal('hello', 'a.stl')).toBe('line 1: found "hello"; wanted "solid"')
  })
  test('thousands of comment signs in a row are looked through at once', async () => {
    expect(await refusal('# '.repeat(2000), 'no-ending')).toContain('neither a known beginning')
  })
})

test('an OBJ with its materials in the same file is read', async () => {
  const materials =
    'newmtl steel\nNs 250\nKa 1 1 1\nKd 0.8 0.8 0.8\nKs 0.5 0.5 0.5\nKe 0 0 0\nNi 1.45\nd 1\nillum 2\nmap_Kd -s 1 1 1 steel.png\nbump n.png\nPr 0.4\n'
  const text = `${materials}o Plate\nv 0 0 0\nv 1 0 0\nv 0 1 0\nusemtl steel\n${materials}f 1 2 3\n`
  expect((await readHere(text, 'a.obj')).parts.map(p => p.key)).toEqual(['Plate'])
})

test.each([
  ['\n', 'v 0 0 0 # corner\nv\t1  0 0 1.0\n  v 0 1 0\nf 1 2 \\\n3\nf -3 -2 -1#x\n'],
  ['\r\n', 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1/1 2/2/2 3//3\n\nf 1 2 3 \n'],
  ['\r', '\uFEFFv 0 0 0\nv +1. 0e0 0\nv 0 .1E+1 0\nf 1 2 3\nf 3 2 1'],
])(
  'lines that end in %j are read with comments, continued lines and any spelling of numbers',
  async (end, text) => {
    const { parts } = await readHere(text.replaceAll('\n', end), 'a.obj')
    expect(parts.map(p => p.indices.length / 3)).toEqual([2])
    expect(cornersOf(parts[0]!).slice(0, 9)).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0])
  },
)

test.each([
  ['v 1 2\n', /^line 1: found "v 1 2"; wanted v and three finite coordinates$/],
  ['v 1 2 3,5\n', /^line 1: found "v 1 2 3,5"; wanted v/],
  ['v 1 2 0x10\n', /^line 1: found "v 1 2 0x10"/],
  ['v 1 2 1e999\n', /^line 1: found "v 1 2 1e999"/],
  ['v 0 0 0\nf 1 1\n', /^line 2: found a face of 2 corners/],
  ['v 0 0 0\nf 1 1 2\n', /^line 2: found corner "2"; wanted one of the 1 vertices/],
  ['v 0 0 0\nf 1 1 x\n', /^line 2: found corner "x"/],
  ['v 0 0 0\nf 1 1 0\n', /^line 2: found corner "0"/],
  ['v 0 0 0\nf 1 1 1.5\n', /^line 2: found corner "1.5"/],
  ['v 0 0 0\nf 1 1 99999999999\n', /^line 2: found corner "99999999999"/],
])('%j is refused by its line', async (text, reason) => {
  expect(await refusal(text, 'a.obj')).toMatch(reason)
})

const SEED = 1107
test(`numbers are read from bytes as they are from text, to the last bit (seed ${SEED})`, () => {
  const random = seeded(SEED)
  const digits = (most: number) =>
    Array.from({ length: random.whole(0, most) }, () => random.whole(0, 9)).join('')
  const sign = () => ['', '', '-', '+'][random.whole(0, 3)]!
  const words = Array.from({ length: 20_000 }, () => {
    const point = random.next() < 0.7 ? `.${digits(18)}` : ''
    const power = random.next() < 0.3 ? `${'eE'[random.whole(0, 1)]}${sign()}${digits(3)}` : ''
    return `${sign()}${digits(18)}${point}${power}${random.next() < 0.02 ? 'x' : ''}`
  }).filter(word => word !== '')
  const bytes = new TextEncoder().encode(` ${words.join(' \t')}\r`)
  const read = new ByteWords(bytes)
  read.end = bytes.length
  for (const word of words) expect(read.number(), word).toBe(numberIn(word))
  expect(read.number()).toBeNaN()
})

test(`a quad that is taken as plain is cut as any polygon is (seed ${SEED})`, () => {
  const random = seeded(SEED)
  let plain = 0
  for (let i = 0; i < 20_000; i++) {
    // Near a plane, on a grid so that corners fall together and in line, or anywhere.
    const at = () => (i % 3 === 0 ? random.whole(-2, 2) : random.between(-2, 2))
    const flat = i % 2 === 0
    const positions = Array.from({ length: 4 }, () => [at(), flat ? 1 : at(), at()]).flat()
    const made = triangulate(positions, [0, 1, 2, 3])
    if (!isPlainQuad(positions, 0, 1, 2, 3)) continue
    plain++
    expect(made, positions.join(' ')).toEqual([0, 1, 2, 0, 2, 3])
  }
  expect(plain).toBeGreaterThan(2_000)
})
