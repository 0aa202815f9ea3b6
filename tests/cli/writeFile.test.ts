import {
  chmodSync,
  existsSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join, relative } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { main } from '../../src/cli/main.ts'
import { NODE_IO } from '../../src/cli/nodeIo.ts'
import { writeFileWhole } from '../../src/cli/writeFile.ts'
import { writeDocument } from '../../src/document/writeDocument.ts'
import { sampleDocument } from '../document/sampleDocument.ts'

const TEXT = writeDocument(sampleDocument())
let folder = ''
const at = (name: string) => join(folder, name)
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'dogleg-out-'))
  writeFileSync(at('a.json'), TEXT)
  writeFileSync(at('b.json'), TEXT)
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

async function dogleg(...args: string[]) {
  let [out, err] = ['', '']
  const code = await main(args, {
    ...NODE_IO,
    out: text => {
      out += text
    },
    err: text => {
      err += text
    },
  })
  return { code, out, err }
}

/** Every command that writes a file, with what it needs besides the two files it reads and `--out`. */
const WRITERS: readonly (readonly string[])[] = [
  ['sheet'],
  ['strip', '--run', 'TAG-r1'],
  ['review'],
  ['review', '--csv'],
  ['cutlist'],
  ...['step', 'glb', 'stl', 'dxf', 'json'].map(to => ['export', '--to', to]),
  ...['csv', 'rows', 'svg'].map(to => ['export', '--run', 'TAG-r1', '--to', to]),
]
const run = ([command = '', ...options]: readonly string[], out: string, ...more: string[]) =>
  dogleg(command, at('a.json'), ...options, '--out', out, ...more)

describe.each(WRITERS.map(w => [w.join(' '), w] as const))('%s', (_, writer) => {
  const ending = writer[0] === 'cutlist' ? '.csv' : '.out'

  test('never writes onto the file that it reads, whatever the path, not even when told to overwrite', async () => {
    if (writer[0] !== 'cutlist') {
      for (const more of [[], ['--overwrite']]) {
        const { code, err } = await run(writer, at('a.json'), ...more)
        expect([code, readFileSync(at('a.json'), 'utf8')]).toEqual([2, TEXT])
        expect(err).toMatch(/--out: found ".*a\.json", which is an input/)
      }
    }
    // By a symbolic link, a hard link, and a way round through a folder.
    mkdirSync(at('deeper'))
    symlinkSync(at('a.json'), at(`soft${ending}`))
    linkSync(at('a.json'), at(`hard${ending}`))
    for (const other of [at(`soft${ending}`), at(`hard${ending}`), at(`deeper/../soft${ending}`)]) {
      const { code, err } = await run(writer, other, '--overwrite')
      expect([code, readFileSync(at('a.json'), 'utf8')], other).toEqual([2, TEXT])
      expect(err).toContain('which is the same file as')
    }
  })

  test('writes a new file; onto another that is there only when told to, and nothing else stays', async () => {
    const out = at(`made${ending}`)
    expect((await run(writer, out)).code).toBeLessThan(2)
    const made = readFileSync(out)
    expect(made.length).toBeGreaterThan(0)
    writeFileSync(out, 'mine')
    const refused = await run(writer, out)
    expect([refused.code, readFileSync(out, 'utf8')]).toEqual([2, 'mine'])
    expect(refused.err).toContain('which exists already; wanted a new file, or --overwrite to replace it')
    expect((await run(writer, out, '--overwrite')).code).toBeLessThan(2)
    expect(readFileSync(out).length).toBe(made.length)
    expect(readdirSync(folder).sort()).toEqual(['a.json', 'b.json', `made${ending}`])
  })
})

test('an earlier version that a review reads is not written onto either', async () => {
  const { code, err } = await run(['review', '--since', at('b.json')], at('b.json'), '--overwrite')
  expect([code, readFileSync(at('b.json'), 'utf8')]).toEqual([2, TEXT])
  expect(err).toContain('which is an input')
})

test('a model that was read for it is not written onto', async () => {
  const reads = { inputs: [at('a.json'), at('b.json')], overwrite: true }
  await expect(writeFileWhole(at('b.json'), 'x', reads)).rejects.toThrow('which is an input')
  expect(readFileSync(at('b.json'), 'utf8')).toBe(TEXT)
})

test('a link is followed: what it leads to is replaced, and it stays a link', async () => {
  writeFileSync(at('old.pdf'), 'old')
  chmodSync(at('old.pdf'), 0o640)
  symlinkSync(at('old.pdf'), at('latest.pdf'))
  expect((await run(['sheet'], at('latest.pdf'), '--overwrite')).code).toBe(0)
  expect(readFileSync(at('old.pdf'), 'latin1')).toMatch(/^%PDF/)
  expect(statSync(at('old.pdf')).mode & 0o777).toBe(0o640)
  expect(readdirSync(folder).sort()).toEqual(['a.json', 'b.json', 'latest.pdf', 'old.pdf'])
})

test.each([
  ['a folder', 'sub', /a folder; wanted the file to write/],
  ['a folder that is not there', 'none/f.pdf', /cannot be written: there is no such folder/],
  ['a file in the place of its folder', 'b.json/f.pdf', /cannot be written: its folder is a file/],
  ['a link to nothing', 'gone.pdf', /a link to a file that is not there/],
  ['a name that is too long', `${'n'.repeat(300)}.pdf`, /cannot be written: its name is too long/],
])('%s is refused and nothing stays', async (_, name, reason) => {
  mkdirSync(at('sub'))
  symlinkSync(at('nowhere.pdf'), at('gone.pdf'))
  const { code, err } = await run(['sheet'], at(name), '--overwrite')
  expect(code).toBe(2)
  expect(err).toMatch(reason)
  expect(readdirSync(folder).sort()).toEqual(['a.json', 'b.json', 'gone.pdf', 'sub'])
})

test.skipIf(!existsSync('/dev/full'))(
  'a device takes what comes and stays a device; a full one is said',
  async () => {
    expect((await run(['sheet'], '/dev/null')).code).toBe(0)
    expect(statSync('/dev/null').isCharacterDevice()).toBe(true)
    const full = await run(['sheet'], '/dev/full')
    expect([full.code, full.err]).toEqual([2, expect.stringContaining('cannot be written: the disk is full')])
  },
)

test('a path from where one stands is the same file', async () => {
  const near = relative(process.cwd(), at('a.json'))
  const { code } = await dogleg('sheet', at('a.json'), '--out', near, '--overwrite')
  expect([code, readFileSync(at('a.json'), 'utf8')]).toEqual([2, TEXT])
})

test('--overwrite without --out is refused', async () => {
  const { code, err } = await dogleg('cutlist', at('a.json'), '--overwrite')
  expect([code, err]).toEqual([2, 'dogleg: --overwrite: found no --out; wanted it with --out only\n'])
})
