import { describe, expect, test } from 'vitest'
import { MOST_BYTES } from '../../../src/skid/models/limits.ts'
import { modelTrees } from '../../../src/skid/models/modelTrees.ts'
import { nameInKey } from '../../../src/skid/models/nameOfBody.ts'
import { glbBytes, gltfText } from './gltfMade.ts'
import { readHere, refusal } from './readHere.ts'

/** Nodes by name, each with the wedge; a list is an assembly of its own. */
type Tree = readonly (string | readonly [string, Tree])[]
const named = (tree: Tree) =>
  gltfText(json => {
    const nodes: object[] = []
    const add = (branch: Tree): number[] =>
      branch.map(entry => {
        const [name, below] = typeof entry === 'string' ? [entry, null] : entry
        const at = nodes.push({}) - 1
        nodes[at] = below ? { name, children: add(below) } : { name, mesh: 0 }
        return at
      })
    json['scenes'] = [{ nodes: add(tree) }]
    json['nodes'] = nodes
  })
const keysOf = async (tree: Tree) => (await readHere(named(tree), 'a.gltf')).parts.map(p => p.key)

describe('a part is known again by its key', () => {
  test('the key is the path of names, repeats numbered among their siblings only', async () => {
    expect(await keysOf([['Frame', ['Post', 'Post', 'Beam', 'Post']], ['Frame', ['Post']], 'Pump'])).toEqual([
      'Frame/Post',
      'Frame/Post#2',
      'Frame/Beam',
      'Frame/Post#3',
      'Frame#2/Post',
      'Pump',
    ])
  })

  test('what is added or taken away in one assembly leaves the keys in all others as they are', async () => {
    const before = await keysOf([['A', ['x', 'x', 'y']], ['B', ['x', 'x']], 'C'])
    const after = await keysOf([['A', ['z', 'x', 'y', 'x', 'x']], 'D', ['B', ['x', 'x']], 'C'])
    for (const key of before) expect(after).toContain(key)
    const fewer = await keysOf([['A', ['y']], ['B', ['x', 'x']], 'C'])
    expect(fewer).toEqual(['A/y', 'B/x', 'B/x#2', 'C'])
  })

  test('names with the marks of keys and ids in them stay apart, and come back out of the key', async () => {
    const names = ['a/b', 'a', 'a#2', 'a', 'a:b', 'a%2Fb', 'Ø 12 „Rohr“', '  ', '\u0000\n']
    const { parts } = await readHere(named(names), 'a.gltf')
    expect(new Set(parts.map(p => p.key)).size).toBe(names.length)
    for (const { key, names: shown } of parts) {
      expect(key).not.toMatch(/[:/]/)
      expect(nameInKey(key)).toBe(shown.at(-1))
    }
    expect(parts.slice(-2).map(p => p.key)).toEqual(['unnamed', 'unnamed#2'])
  })

  test('reading the same bytes twice gives the same keys, trees and figures', async () => {
    expect(await readHere(glbBytes(), 'a.glb')).toEqual(await readHere(glbBytes(), 'a.glb'))
  })
})

describe('limits are asked before memory is taken', () => {
  /** A file that says it is so long and has no bytes behind the first ones: reading on would fail. */
  const claims = (start: string, length: number) => {
    const head = new TextEncoder().encode(start)
    return new Proxy(new Uint8Array(head), {
      get: (target, key) => {
        if (key === 'length') return length
        const value = Reflect.get(target, key, target)
        return typeof value === 'function' ? value.bind(target) : value
      },
    })
  }
  test.each([
    ['a.step', 'ISO-10303-21;', MOST_BYTES.step, '50,000,000'],
    ['a.glb', 'glTF', MOST_BYTES.gltf, '200,000,000'],
    ['a.stl', 'solid a\nfacet', MOST_BYTES.stl, '200,000,000'],
    ['a.obj', `# ${'x'.repeat(90)}\nv 0 0 0\n`, MOST_BYTES.obj, '200,000,000'],
  ])('%s of one byte too many is refused by its length alone', async (name, start, most, shown) => {
    const { readModel } = await import('../../../src/skid/models/readModel.ts')
    const stepKernel = () => Promise.reject(new Error('asked for the kernel'))
    await expect(readModel(claims(start, most + 1), name, () => {}, { stepKernel })).rejects.toThrow(
      new RegExp(`^the file: found ${shown.replace(/0$/, '1')} bytes; wanted at most ${shown}$`),
    )
  })

  test('more parts than are taken', async () => {
    const many = gltfText(json => {
      json['nodes'] = Array.from({ length: 20_001 }, () => ({ mesh: 0 }))
      json['scenes'] = [{ nodes: json['nodes'].map((_: unknown, i: number) => i) }]
    })
    expect(await refusal(many, 'a.gltf')).toBe(
      'the file: found more than 20,000 parts; wanted at most that many',
    )
  })

  test('a unit that puts a vertex out of reach is refused by part and vertex, a unit of nought at once', async () => {
    const read = await readHere(glbBytes(), 'a.glb')
    expect(() => modelTrees(read, 1e7, 'z')).toThrow(
      /^part "Wedge", vertex 3: found \(0, 20000000, 0\) mm; wanted at most 10 km from the file's origin$/,
    )
    for (const unit of [0, -1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => modelTrees(read, unit, 'z')).toThrow(/wanted a length above 0 mm/)
  })
})
