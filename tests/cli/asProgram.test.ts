import { spawn, spawnSync } from 'node:child_process'
import { accessSync, constants, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { main } from '../../src/cli/main.ts'

const TOP = fileURLToPath(new URL('../../', import.meta.url))
const { bin, scripts } = JSON.parse(readFileSync(join(TOP, 'package.json'), 'utf8'))
const SAMPLE = join(TOP, 'sample-routes/first-route.json')

describe('the command line as a program', () => {
  test('the package installs it as "dogleg", one file that runs by itself and through a link from anywhere', () => {
    expect(Object.keys(bin)).toEqual(['dogleg'])
    const file = join(TOP, bin.dogleg)
    accessSync(file, constants.X_OK)
    expect(readFileSync(file, 'utf8')).toMatch(/^#!\/usr\/bin\/env node\n/)
    expect(scripts.dogleg).toContain(bin.dogleg)
    const folder = mkdtempSync(join(tmpdir(), 'dogleg-bin-'))
    try {
      symlinkSync(file, join(folder, 'dogleg'))
      const told = spawnSync(join(folder, 'dogleg'), ['check', SAMPLE, '--json'], {
        cwd: folder,
        encoding: 'utf8',
      })
      expect([told.status, told.stderr]).toEqual([1, ''])
      expect(JSON.parse(told.stdout).open).toBe(1)
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  test('whoever stops reading its output ends it without a word', async () => {
    const child = spawn(process.execPath, [join(TOP, bin.dogleg), 'solve', SAMPLE, '--json'], { cwd: TOP })
    let said = ''
    child.stderr.on('data', more => {
      said += more
    })
    child.stdout.destroy()
    await new Promise(resolve => child.on('close', resolve))
    expect(said).toBe('')
  })

  test('a fault of its own is one line and exit code 3, no list of calls', async () => {
    let err = ''
    const code = await main(['check', 'd.json'], {
      read: async () => readFileSync(SAMPLE, 'utf8'),
      write: async () => {},
      out: () => {
        throw new TypeError('broken\nin two')
      },
      err: text => {
        err += text
      },
    })
    expect([code, err]).toEqual([3, 'dogleg: an error in the program, not in the input: broken␊in two\n'])
  })
})
