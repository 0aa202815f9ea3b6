import { existsSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { describe, expect, it } from 'vitest'
import { main } from '../src/cli.ts'

const TOP = resolve(import.meta.dirname, '..')
const README = readFileSync(join(TOP, 'README.md'), 'utf8')
const CALL = 'npm run --silent dogleg -- '

/** Runs the command line on the project's own files, and on those given. */
async function dogleg(args: string, files: Readonly<Record<string, string>> = {}): Promise<string> {
  let out = ''
  const write = (text: string) => {
    out += text
  }
  const read = async (path: string) => files[path] ?? readFileSync(join(TOP, path), 'utf8')
  const noFile = async (path: string) => {
    throw new Error(`the README's calls write no files, but one wrote ${path}`)
  }
  await main(args.split(' '), { read, write: noFile, out: write, err: write })
  return out
}

describe('the README', () => {
  it('shows what the command line really prints', async () => {
    const blocks = [...README.matchAll(/```console\n\$ (.*)\n([\s\S]*?)```/g)]
    expect(blocks.length).toBeGreaterThan(0)
    for (const [, call = '', shown] of blocks) {
      expect(call.startsWith(CALL)).toBe(true)
      expect(await dogleg(call.slice(CALL.length))).toBe(shown)
    }
  })

  it('gives the figures of its table of points', async () => {
    const [, table = '', options = ''] =
      /printf '([^']*)' > offset\.csv\n.*solve offset\.csv (.*)\n/.exec(README) ?? []
    const files = { 'offset.csv': table.replaceAll('\\n', '\n') }
    const report = JSON.parse(await dogleg(`solve offset.csv --json ${options}`, files)) as {
      runs: {
        straights: number[]
        bends: { angle: number; rotation: number | null }[]
        developedLength: number
      }[]
    }
    const run = report.runs[0]!
    const words =
      /two bends of (\d+)°, the second turned by (\d+)°, straights of ([\d.]+), ([\d.]+) and ([\d.]+) mm, and a developed\s+length of ([\d.]+) mm/
    const said = words.exec(README)?.slice(1).map(Number) ?? []
    const [first, second] = run.bends
    expect(run.bends).toHaveLength(2)
    expect(second!.angle).toBeCloseTo(first!.angle, 9)
    const solved = [first!.angle, second!.rotation!, ...run.straights, run.developedLength]
    expect(solved.map(f => f.toFixed(2))).toEqual(said.map(f => f.toFixed(2)))
  })

  it('names only files and commands that are there', () => {
    const { scripts } = JSON.parse(readFileSync(join(TOP, 'package.json'), 'utf8')) as { scripts: object }
    for (const [, name = ''] of README.matchAll(/npm run (?:--silent )?(\w+)/g))
      expect(Object.keys(scripts)).toContain(name)
    for (const [, file = ''] of README.matchAll(/\]\(([\w./-]+)\)/g))
      expect(existsSync(join(TOP, file)), file).toBe(true)
  })
})
