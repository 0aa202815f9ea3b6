import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { BLOCK, dogleg, README as FILE, TOP } from './readmeConsole.ts'

const README = readFileSync(FILE, 'utf8')

describe('the README', () => {
  it('shows what the command line really prints', async () => {
    const blocks = [...README.matchAll(BLOCK)]
    expect(blocks.length).toBe(README.split('```console').length - 1)
    expect(blocks.length).toBeGreaterThan(0)
    for (const [, , args = '', shown] of blocks) expect(await dogleg(args)).toBe(shown)
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
      /two bends of (\d+)°, the second rotated by (\d+)°, straights of ([\d.]+), ([\d.]+) and ([\d.]+) mm, and a developed\s+length of ([\d.]+) mm/
    const said = words.exec(README)?.slice(1).map(Number) ?? []
    const [first, second] = run.bends
    expect(run.bends).toHaveLength(2)
    expect(second!.angle).toBeCloseTo(first!.angle, 9)
    const solved = [first!.angle, second!.rotation!, ...run.straights, run.developedLength]
    expect(solved.map(f => f.toFixed(2))).toEqual(said.map(f => f.toFixed(2)))
  })

  it('gives the figures of its table with other columns', async () => {
    const [, table = '', options = ''] =
      /printf '([^']*)' > foreign\.csv\n.*solve foreign\.csv (.*)\n/.exec(README) ?? []
    const files = { 'foreign.csv': table.replaceAll('\\n', '\n') }
    const report = JSON.parse(await dogleg(`solve foreign.csv --json ${options}`, files)) as {
      runs: { straights: number[]; bends: { angle: number }[] }[]
    }
    const { straights, bends } = report.runs[0]!
    const words = /one bend of (\d+)° between straights of ([\d.]+) and ([\d.]+) mm/
    const said = words.exec(README)?.slice(1).map(Number) ?? []
    expect(bends).toHaveLength(1)
    expect([bends[0]!.angle, ...straights].map(f => f.toFixed(2))).toEqual(said.map(f => f.toFixed(2)))
  })

  it('names only files and commands that are there', () => {
    const { scripts } = JSON.parse(readFileSync(join(TOP, 'package.json'), 'utf8')) as { scripts: object }
    for (const [, name = ''] of README.matchAll(/npm run (?:--silent )?(\w+)/g))
      expect(Object.keys(scripts)).toContain(name)
    for (const [, file = ''] of README.matchAll(/\]\(([\w./-]+)\)/g))
      expect(existsSync(join(TOP, file)), file).toBe(true)
  })
})
