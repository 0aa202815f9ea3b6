import type { Mesh } from 'three'
import { OBJLoader } from 'three/addons/loaders/OBJLoader.js'
import { STLLoader } from 'three/addons/loaders/STLLoader.js'
import { describe, expect, test } from 'vitest'
import { type Random, seeded } from '../../random.ts'
import { cornersOf, readHere, refusal, volumeOf } from './readHere.ts'

/** Random triangles as an STL in binary, with a header that begins with "solid" as many have. */
function binaryStl(random: Random, count: number): Uint8Array<ArrayBuffer> {
  const data = new DataView(new ArrayBuffer(84 + 50 * count))
  new Uint8Array(data.buffer).set(new TextEncoder().encode('solid as many programs begin it'))
  data.setUint32(80, count, true)
  for (let i = 0; i < count; i++)
    for (let k = 0; k < 12; k++) data.setFloat32(84 + 50 * i + 4 * k, random.between(-900, 900), true)
  return new Uint8Array(data.buffer)
}

/** The same in text; `line` ends each line. */
function textStl(random: Random, counts: readonly number[], line = '\n'): string {
  const number = () => (random.between(-1, 1) * 10 ** random.whole(-4, 5)).toPrecision(random.whole(1, 17))
  const three = () => `${number()} ${number()} ${number()}`
  const lines: string[] = []
  counts.forEach((count, s) => {
    lines.push(`solid Part ${s + 1}`)
    for (let i = 0; i < count; i++)
      lines.push(
        `  facet normal ${three()}`,
        '    outer loop',
        ...[0, 1, 2].map(() => `      vertex ${three()}`),
        '    endloop',
        '  endfacet',
      )
    lines.push(`endsolid Part ${s + 1}`)
  })
  return lines.join(line) + line
}

const SEED = 8086
test(`a binary STL has the triangles that three.js reads, to the last digit (seed ${SEED})`, async () => {
  const bytes = binaryStl(seeded(SEED), 500)
  const { parts, unitMm, up, notes } = await readHere(bytes, 'a.stl')
  expect([unitMm, up, notes]).toEqual([null, null, []])
  expect(parts.map(p => p.key)).toEqual(['body'])
  const theirs = new STLLoader().parse(bytes.buffer).getAttribute('position').array
  expect(cornersOf(parts[0]!)).toEqual(Array.from(theirs))
})

test(`a text STL has the triangles that three.js reads, solid by solid, with any line ends (seed ${SEED})`, async () => {
  for (const line of ['\n', '\r\n']) {
    const text = textStl(seeded(SEED), [3, 40, 7], line)
    const { parts } = await readHere(text, 'a.stl')
    expect(parts.map(p => [p.key, p.indices.length / 3])).toEqual([
      ['Part 1', 3],
      ['Part 2', 40],
      ['Part 3', 7],
    ])
    const theirs = Array.from(new STLLoader().parse(text).getAttribute('position').array)
    // three.js keeps single precision.
    expect(parts.flatMap(cornersOf).map(Math.fround)).toEqual(theirs.map(Math.fround))
  }
})

/** Quads and triangles over random vertices, with objects, groups, smoothing and material words between. */
function randomObj(random: Random): string {
  const lines = ['# invented', 'mtllib none.mtl']
  let vertices = 0
  for (let o = 0; o < 3; o++) {
    lines.push(`o Object ${o + 1}`)
    for (let g = 0; g < 2; g++) {
      const [cx, cy, z] = [random.between(-50, 50), random.between(-50, 50), random.between(-50, 50)]
      const n = random.whole(3, 7)
      for (let i = 0; i < n; i++) {
        const angle = (2 * Math.PI * i) / n
        lines.push(`v ${cx + 10 * Math.cos(angle)} ${cy + 10 * Math.sin(angle)} ${z}`)
      }
      vertices += n
      lines.push('vn 0 0 1', 'vt 0 0', `g Group ${g + 1}`, 'usemtl none', 's 1')
      const form = random.whole(0, 3)
      const corner = (i: number) => {
        const at = form === 3 ? i - n : vertices - n + i + 1
        return form === 0 ? `${at}` : form === 1 ? `${at}/1` : form === 2 ? `${at}//1` : `${at}/1/1`
      }
      lines.push(`f ${Array.from({ length: n }, (_, i) => corner(i)).join(' ')}`)
    }
  }
  return `${lines.join('\n')}\n`
}

test(`an OBJ of convex faces has the triangles that three.js reads (seed ${SEED})`, async () => {
  const random = seeded(SEED)
  for (let k = 0; k < 20; k++) {
    const text = randomObj(random)
    const { parts } = await readHere(text, 'a.obj')
    expect(parts.map(p => p.key)).toEqual([1, 2, 3].flatMap(o => [1, 2].map(g => `Object ${o}/Group ${g}`)))
    const theirs = new OBJLoader()
      .parse(text)
      .children.flatMap(child => Array.from((child as Mesh).geometry.getAttribute('position').array))
    expect(parts.flatMap(cornersOf).map(Math.fround)).toEqual(theirs)
  }
})

test('an OBJ face that is not convex is covered once, and not where it is not', async () => {
  // An L of three unit squares as the floor of a prism: its volume says what is covered.
  const outline = ['0 0', '2 0', '2 1', '1 1', '1 2', '0 2']
  const v = [0, 1].flatMap(z => outline.map(p => `v ${p} ${z}`))
  const sides = outline.map((_, i) => `f ${i + 1} ${((i + 1) % 6) + 1} ${((i + 1) % 6) + 7} ${i + 7}`)
  for (let first = 0; first < 6; first++) {
    const turn = (list: number[]) => [...list.slice(first), ...list.slice(0, first)].join(' ')
    const text = [...v, `f ${turn([6, 5, 4, 3, 2, 1])}`, `f ${turn([7, 8, 9, 10, 11, 12])}`, ...sides].join(
      '\n',
    )
    const [part] = (await readHere(text, 'l.obj')).parts
    expect(part!.indices.length / 3).toBe(4 + 4 + 12)
    expect(volumeOf(part!)).toBeCloseTo(3, 12)
    let area = 0
    const c = cornersOf(part!)
    for (let i = 0; i < c.length; i += 9)
      if ([c[i + 2], c[i + 5], c[i + 8]].every(z => z === 0))
        area +=
          Math.abs(
            (c[i + 3]! - c[i]!) * (c[i + 7]! - c[i + 1]!) - (c[i + 6]! - c[i]!) * (c[i + 4]! - c[i + 1]!),
          ) / 2
    expect(area).toBeCloseTo(3, 12)
  }
})

test('what an OBJ or STL has besides surfaces is left out and told', async () => {
  const text = 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf 1 2 2\nl 1 2 3\np 1 2\n'
  expect((await readHere(text, 'a.obj')).notes).toEqual([
    '1 line is left out: only surfaces are measured.',
    '2 loose points are left out: only surfaces are measured.',
    '1 triangle without area is left out.',
  ])
  const stl = binaryStl(seeded(1), 2)
  const longer = new Uint8Array(stl.length + 7)
  longer.set(stl)
  expect((await readHere(longer, 'a.stl')).notes).toEqual([
    '7 bytes behind the last of 2 triangles are not read.',
  ])
})

describe('refused with place, found and wanted', () => {
  const triangle =
    'facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\n'
  const cases: [string, string, string, RegExp][] = [
    ['an empty file', '', 'a.stl', /^the file: found 0 bytes; wanted a STEP, glTF, STL or OBJ file$/],
    ['a file of no kind', 'hello', 'a.txt', /neither a known beginning nor a known name \("a\.txt"\)/],
    [
      'an STL without its end',
      `solid a\n${triangle}`,
      'a.stl',
      /^line \d: found the end of the file; wanted "endsolid"/,
    ],
    [
      'an STL with another word',
      `solid a\n${triangle.replace('endloop', 'end')}`,
      'a.stl',
      /^line 7: found "end"; wanted "endloop"$/,
    ],
    [
      'an STL coordinate of letters',
      `solid a\n${triangle.replace('1 0 0', '1 x 0')}`,
      'a.stl',
      /^line 5: found "x"; wanted a finite coordinate$/,
    ],
    [
      'an endless STL coordinate',
      `solid a\n${triangle.replace('1 0 0', '1 1e999 0')}`,
      'a.stl',
      /^line 5: found "1e999"; wanted a finite coordinate$/,
    ],
    [
      'an STL of nothing',
      'solid a\nendsolid a\n',
      'a.stl',
      /^the file: found no triangles; wanted at least one$/,
    ],
    [
      'an OBJ vertex of two numbers',
      'v 1 2\n',
      'a.obj',
      /^line 1: found "v 1 2"; wanted v and three finite coordinates$/,
    ],
    [
      'an OBJ corner that is not there',
      'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n',
      'a.obj',
      /^line 4: found corner "4"; wanted one of the 3 vertices/,
    ],
    ['an OBJ corner nought', 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf 0 1 2\n', 'a.obj', /^line 4: found corner "0"/],
    [
      'an OBJ corner too far back',
      'v 0 0 0\nv 1 0 0\nv 0 1 0\nf -1 -2 -4\n',
      'a.obj',
      /^line 4: found corner "-4"/,
    ],
    [
      'an OBJ face of two',
      'v 0 0 0\nv 1 0 0\nf 1 2\n',
      'a.obj',
      /^line 3: found a face of 2 corners; wanted at least 3$/,
    ],
    [
      'an OBJ of free-form faces',
      'v 0 0 0\ncstype bezier\n',
      'a.obj',
      /^line 2: found "cstype", free-form geometry/,
    ],
    [
      'an OBJ statement that is none',
      'v 0 0 0\nwhat 1\n',
      'a.obj',
      /^line 2: found "what"; wanted a statement of an OBJ file$/,
    ],
    [
      'an OBJ line that goes on to nowhere',
      'v 0 0 0\nv 1 0 \\',
      'a.obj',
      /wanted the line that "\\" says goes on/,
    ],
    ['an OBJ of points only', 'v 0 0 0\nv 1 0 0\n', 'a.obj', /^the file: found no triangles/],
    [
      'a line without end',
      `v 0 0 0\n# ${'x'.repeat(2_100_000)}`,
      'a.obj',
      /^line 2: found more than 1000000 characters/,
    ],
  ]
  test.each(cases)('%s', async (_, text, name, said) => {
    expect(await refusal(text, name)).toMatch(said)
  })

  test('a binary STL cut off says how long it should be', async () => {
    const bytes = binaryStl(seeded(2), 3)
    expect(await refusal(bytes.subarray(0, 200), 'a.stl')).toBe(
      'the file: found 200 bytes; wanted 234 for the 3 triangles of its header: it is cut off or no STL',
    )
  })

  test('too many triangles of a binary STL, by its header alone', async () => {
    const bytes = new Uint8Array(134)
    new DataView(bytes.buffer).setUint32(80, 4_000_001, true)
    expect(await refusal(bytes, 'a.stl')).toBe(
      'byte 80, the count of the header: found 4,000,001 triangles; wanted at most 4,000,000',
    )
  })
})
