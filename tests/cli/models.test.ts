import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { main } from '../../src/cli/main.ts'
import type { Model } from '../../src/document/types.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { modelHash } from '../../src/skid/models/modelHash.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'

const OBJ = (size: number) =>
  new TextEncoder().encode(
    `o Block\n${[0, 1, 2, 3, 4, 5, 6, 7]
      .map(i => `v ${i & 1 ? size : 0} ${i & 2 ? size : 0} ${i & 4 ? size : 0}\n`)
      .join('')}f 1 3 4 2\nf 5 6 8 7\nf 1 2 6 5\nf 3 7 8 4\nf 1 5 7 3\nf 2 4 8 6\n`,
  )
const BLOCK = OBJ(50)
const MODEL: Model = {
  id: 'm1',
  name: 'Block',
  fileName: 'block.obj',
  hash: await modelHash(BLOCK),
  bytes: BLOCK.length,
  format: 'obj',
  unitMm: 1,
  up: 'z',
  at: [100, 16, -25],
  turn: [0, 0, 0],
  kind: 'equipment',
  fitting: null,
  parts: [],
}
const document = (model: Partial<Model> = {}) =>
  writeDocument({
    ...documentOf([runOf('r', [], { endB: { kind: 'free', at: [400, 0, 0] }, bender: null })]),
    models: [{ ...MODEL, ...model }],
  })

/** Runs the command line on files that are only in memory; `read` lists the models whose bytes were asked for. */
async function dogleg(args: string, files: Readonly<Record<string, string | Uint8Array>>) {
  let out = ''
  let err = ''
  const read: string[] = []
  const at = (path: string) => {
    const found = files[path]
    if (found === undefined) throw Object.assign(new Error('none'), { code: 'ENOENT' })
    return found
  }
  const code = await main(args.split(' '), {
    read: async path => at(path) as string,
    write: async () => {},
    files: {
      list: async folder => {
        const inside = Object.keys(files).filter(p => p.slice(0, p.lastIndexOf('/')) === folder)
        if (inside.length === 0) throw new Error('no such folder')
        return inside.map(p => ({ name: p.slice(folder.length + 1), bytes: at(p).length }))
      },
      bytes: async path => {
        read.push(path)
        return new Uint8Array(at(path) as Uint8Array)
      },
    },
    out: text => {
      out += text
    },
    err: text => {
      err += text
    },
  })
  return { code, out, err, read }
}

// Tube 12 along x at y = 0, block from y = 16: 10 mm for 25 mm asked.
const GAP = 'TAG-r, straight 1, and Block: Block are 10.00 mm apart; 25.00 mm required.'

describe('a model’s file is found', () => {
  test('beside the document by its name', async () => {
    const { code, out, err } = await dogleg('check work/s.json', {
      'work/s.json': document(),
      'work/block.obj': BLOCK,
    })
    expect([code, err]).toEqual([1, ''])
    expect(out).toContain(GAP)
    expect(out).not.toContain('not at hand')
  })

  test('beside the document under another name, by what is in it; files of another length are not read', async () => {
    const { out, read } = await dogleg('check work/s.json', {
      'work/s.json': document(),
      'work/a.obj': OBJ(51).map(b => b ^ 1),
      'work/longer.obj': OBJ(5000),
      'work/copy of block.bak': BLOCK,
    })
    expect(out).toContain(GAP)
    expect(read).not.toContain('work/longer.obj')
  })

  test('in the folder that --models names, and then not beside the document', async () => {
    const files = { 'work/s.json': document(), 'other/block.obj': BLOCK, 'none/x.txt': '' }
    expect((await dogleg('check work/s.json --models other', files)).out).toContain(GAP)
    const beside = { ...files, 'work/block.obj': BLOCK }
    expect((await dogleg('check work/s.json --models none', beside)).out).toContain('is missing')
  })

  test('for clearance as for check, with the same figure', async () => {
    const files = { 'work/s.json': document(), 'work/block.obj': BLOCK }
    const { code, out } = await dogleg('clearance work/s.json --json', files)
    expect(code).toBe(1)
    expect(JSON.parse(out).pairs).toMatchObject([{ a: 'TAG-r', b: 'Block: Block', required: 25 }])
    expect(JSON.parse(out).pairs[0].clearance).toBeCloseTo(10, 9)
  })
})

describe('a model whose file is missing is not checked, and it is said why', () => {
  test('no file', async () => {
    const { code, out } = await dogleg('check work/s.json', { 'work/s.json': document() })
    expect(code).toBe(0)
    expect(out).toContain('Block: clearance not checked, its file block.obj is missing.')
    expect(out).not.toContain(GAP)
  })

  test('another file of its name, of the same length or not', async () => {
    for (const other of [OBJ(51), OBJ(500)]) {
      const { out } = await dogleg('check work/s.json', {
        'work/s.json': document(),
        'work/block.obj': other,
      })
      expect(out).toContain(
        'Block: clearance not checked, its file block.obj is missing: the file of that name in work is a different one.',
      )
      expect(out).not.toContain(' required.')
    }
    expect(OBJ(51)).toHaveLength(BLOCK.length)
  })

  test('a file that is the right one and cannot be read as the document says', async () => {
    const broken = new TextEncoder().encode('v 0 0 0\nf 1 2 3\n')
    const text = document({ hash: await modelHash(broken), bytes: broken.length })
    const { out } = await dogleg('check work/s.json', { 'work/s.json': text, 'work/block.obj': broken })
    expect(out).toContain(
      'its file block.obj cannot be read (line 2: found corner "2"; wanted one of the 1 vertices',
    )
    const far = await dogleg('check work/s.json', {
      'work/s.json': document({ unitMm: 1e6 }),
      'work/block.obj': BLOCK,
    })
    expect(far.out).toContain('wanted at most 10 km from the file')
  })

  test('a folder that is not there is bad input', async () => {
    const { code, err } = await dogleg('check work/s.json --models nowhere', { 'work/s.json': document() })
    expect(code).toBe(2)
    expect(err).toMatch(/--models: found "nowhere", which cannot be read/)
  })
})

test('the sample is checked with the model that lies beside it, as Node reads it', async () => {
  const sample = readFileSync(new URL('../../sample-routes/dense-skid.json', import.meta.url), 'utf8')
  const glb = readFileSync(new URL('../../sample-routes/feed-pump-skid.glb', import.meta.url))
  const { code, out } = await dogleg('clearance sample-routes/dense-skid.json --within 1', {
    'sample-routes/dense-skid.json': sample,
    'sample-routes/feed-pump-skid.glb': new Uint8Array(glb),
  })
  expect(code).toBe(1)
  expect(out).toContain('Pump skid: Coupling guard')
})
