import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { main } from '../../src/cli/main.ts'
import { pdfText } from '../browser/pdfText.ts'

const now = JSON.parse(readFileSync(new URL('../../sample-routes/thirty-runs.json', import.meta.url), 'utf8'))
now.runs = now.runs.filter((r: { tag: string }) => ['AE-201', 'WS-205', 'WS-206'].includes(r.tag))
const TEXT = JSON.stringify(now)
const earlier = JSON.parse(TEXT)
earlier.runs[0].vertices[1].at[0] += 25
earlier.clearances.tube = 5
const FILES: Record<string, string> = {
  'now.json': TEXT,
  'was.json': JSON.stringify(earlier),
  'bad.json': '{',
}

async function dogleg(...args: string[]) {
  let [out, err] = ['', '']
  const written = new Map<string, string | Uint8Array>()
  const code = await main(args, {
    read: async path => {
      const text = FILES[path]
      if (text === undefined) throw Object.assign(new Error('no'), { code: 'ENOENT' })
      return text
    },
    write: async (path, data) => {
      written.set(path, data)
    },
    out: text => {
      out += text
    },
    err: text => {
      err += text
    },
  })
  return { code, out, err, written }
}

describe('review', () => {
  test('writes a PDF with the changes page, exit 1 for open findings', async () => {
    const { code, written } = await dogleg('review', 'now.json', '--since', 'was.json', '--out', 'r.pdf')
    expect(code).toBe(1)
    const text = await pdfText(written.get('r.pdf') as Uint8Array)
    expect(text).toContain('Changes since was.json')
    expect(text).toContain('moved 25.00 mm')
  })
  test('--csv gives the table, on the output or in a file', async () => {
    const { out } = await dogleg('review', 'now.json', '--csv')
    expect(out.split('\r\n')[0]).toMatch(/^state,severity,rule/)
    const { written } = await dogleg('review', 'now.json', '--csv', '--out', 'r.csv')
    expect(written.get('r.csv')).toBe(out)
  })
  test('without a file to write, with a wrong paper or an earlier version that is not there: exit 2', async () => {
    expect(await dogleg('review', 'now.json')).toMatchObject({
      code: 2,
      err: expect.stringContaining('--out'),
    })
    expect((await dogleg('review', 'now.json', '--out', 'r', '--paper', 'A5')).code).toBe(2)
    const { code, err } = await dogleg('review', 'now.json', '--since', 'gone.json', '--out', 'r')
    expect([code, err]).toEqual([2, expect.stringContaining('gone.json: found no such file')])
  })
})

describe('compare', () => {
  test('exit 0 for the same, 1 for another, 2 for bad input', async () => {
    expect((await dogleg('compare', 'now.json', 'now.json')).code).toBe(0)
    expect((await dogleg('compare', 'now.json', 'was.json')).code).toBe(1)
    expect((await dogleg('compare', 'now.json', 'bad.json')).code).toBe(2)
    expect(await dogleg('compare', 'now.json')).toMatchObject({
      code: 2,
      err: expect.stringContaining('wanted two'),
    })
    expect((await dogleg('compare', 'now.json', 'was.json', 'now.json')).code).toBe(2)
    expect((await dogleg('check', 'now.json', 'was.json')).code).toBe(2)
  })
  test('--json has the runs, the largest move, the document and the findings', async () => {
    const { out } = await dogleg('compare', 'now.json', 'was.json', '--json')
    const data = JSON.parse(out)
    expect(data.runs.changed).toHaveLength(1)
    expect(data.runs.changed[0].largestMove).toMatchObject({ point: 'point 3' })
    expect(data.runs.changed[0].largestMove.by).toBeCloseTo(25, 9)
    expect(data.document).toMatchObject([{ what: 'clearance to tubes', before: 5, after: 10 }])
    expect(data.findings.appeared.map((f: { rule: string }) => f.rule)).toContain('tooClose')
  })
})
